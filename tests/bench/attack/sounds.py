"""Odd sound files for `hear`: each has a line or a sentence, and none takes much memory."""

from __future__ import annotations

import os
import random
import shutil
from pathlib import Path

import numpy as np
import soundfile  # type: ignore[import-untyped]

from tests.bench.attack.field import Field
from voice.sound.ports import RATE_HZ

AT_ONCE = 25
SUBTYPES = ("PCM_U8", "PCM_16", "PCM_24", "PCM_32", "FLOAT", "DOUBLE", "ULAW", "ALAW")


def odd_files(field: Field) -> None:
    """Many at once, as the engine takes its time to be loaded."""
    first = True
    while first or field.going:
        folder = field.place / "sounds"
        folder.mkdir()
        files = [_file(folder, number, field.rng) for number in range(AT_ONCE)]
        if first:
            files.append(_long(folder))
        found = field.program("hear", *map(str, files), limit_s=240)
        told = found.out + found.err
        for file in files:
            silent = None if str(file) in told else "no line and no sentence"
            field.check(found.fallen or silent, (file.name, found.err[-300:]))
        shutil.rmtree(folder)
        first = False


def _file(folder: Path, number: int, rng: random.Random) -> Path:
    file = folder / f"{number}.wav"
    match rng.randrange(9):
        case 0:
            return Path(
                rng.choice(
                    [
                        "/dev/zero",
                        "/dev/null",
                        "/proc/self/mem",
                        str(folder),
                        str(folder / ("a" * 300)),
                        str(folder / "missing.wav"),
                    ]
                )
            )
        case 1:
            file.mkdir()
            return file
        case 2:
            if rng.random() < 0.5:
                os.mkfifo(file)
            else:
                file.symlink_to(file)
            return file
        case 3:
            file.write_bytes(rng.randbytes(rng.randint(0, 400)))
            return file
    _sound(file, rng)
    data = bytearray(file.read_bytes())
    match rng.randrange(6):
        case 0:
            del data[rng.randrange(len(data)) :]
        case 1:
            for _ in range(rng.randint(1, 8)):
                data[rng.randrange(min(64, len(data)))] = rng.randrange(256)
        case 2:
            data[rng.randrange(len(data)) :] = rng.randbytes(50)
    file.write_bytes(data)
    return file


def _sound(file: Path, rng: random.Random) -> None:
    rate_hz = rng.choice(
        [1, 3999, 4000, 8000, 11_025, RATE_HZ, 44_100, 48_000, 96_000, 192_000, 384_000, 2_000_000]
    )
    length, channels = rng.choice([0, 1, 2, 100, rng.randint(1, 60_000)]), rng.choice([1, 2, 6, 40])
    chance = np.random.default_rng(rng.randrange(1 << 32))
    sound = chance.normal(0, rng.choice([0, 0.001, 0.1, 5, 1e35]), (length, channels))
    if length and rng.random() < 0.2:
        sound[rng.randrange(length)] = rng.choice([np.nan, np.inf, -np.inf])
    subtype = rng.choice(SUBTYPES)
    if subtype in {"ULAW", "ALAW"}:  # libsndfile itself falls where it is to write more
        sound = np.clip(np.nan_to_num(sound), -1, 1)
    soundfile.write(file, sound, rate_hz, subtype, format="WAV")


def _long(folder: Path) -> Path:
    """A quarter of an hour at 48 kHz in stereo, of which little is on the disk."""
    file = folder / "long.flac"
    minute = np.zeros((60 * 48_000, 2), np.int16)
    with soundfile.SoundFile(file, "w", 48_000, 2, "PCM_16") as sound:
        for _ in range(15):
            sound.write(minute)
    return file
