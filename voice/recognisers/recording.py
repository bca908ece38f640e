"""Sound as the recognisers want it: from a file, or from samples of another rate."""

from __future__ import annotations

import struct
from collections.abc import Iterator
from contextlib import contextmanager
from io import SEEK_END
from pathlib import Path
from typing import BinaryIO

import numpy as np
import soundfile  # type: ignore[import-untyped]
import soxr  # type: ignore[import-untyped]
from numpy.typing import NDArray

from pattern.errors import RoundsAloudError
from voice.inputs.user_files import FileRefused, opened, reaching
from voice.sound.ports import RATE_HZ, Samples

LONGEST_S = 7200.0
"""A longer file is no recording of one piece, by judgement."""
_SLOWEST_HZ, _FASTEST_HZ = 4000, 384_000
_MOST_CHUNKS = 1000
"""Most chunks of a WAV file that are searched for the sound; our choice."""
_BLOCK_SAMPLES = 1 << 18
"""Samples of a block, all channels together: a megabyte."""
_CANCELLED = 0.01
"""Share of the power in the average of the channels below which one undoes another."""
_LARGEST = 1e30
"""Full scale is 1, or 32768 where a writer forgot to divide; such a number is no sound."""
_STREAMED_BYTES = 0x7FFF0000
"""Sizes from here on tell nothing: a writer to a pipe cannot know the length; from memory."""


class NotARecording(RoundsAloudError):  # noqa: N818 - it reads as what happened
    """A file that holds no sound we can read."""

    def __init__(self, path: Path, reason: str) -> None:
        """Give the reason in words that follow a colon."""
        super().__init__(f"{path} cannot be heard: {reason}. Give a whole WAV file.")
        self.path = path


def read_recording(path: Path, most_s: float = LONGEST_S) -> Samples:
    """The sound of a file as int16 at 16 kHz, channels averaged; any rate and sample format.

    Sound after `most_s` is left out. Raises: NotARecording, as `recorded` does.
    """
    blocks, found = [], 0
    for block in recorded(path):
        blocks.append(block)
        found += len(block)
        if found >= most_s * RATE_HZ:
            break
    return np.concatenate(blocks)[: int(most_s * RATE_HZ)]


def recorded(path: Path) -> Iterator[Samples]:
    """The sound of a file in blocks, as int16 at 16 kHz: only one of them is in memory.

    Raises: NotARecording for a file that is missing, empty, longer than two hours, no regular
    file, no sound, or a WAV that is cut short; before anything of it is given out.
    """
    with opened_sound(path) as sound:
        keep = kept_channel(path, sound)
        sound.seek(0)
        rate_hz, resampler = sound.samplerate, None
        if rate_hz != RATE_HZ:
            resampler = soxr.ResampleStream(rate_hz, RATE_HZ, 1, dtype="float32")
        for block in frames_of(sound):
            mono = block.mean(axis=1) if keep is None else block[:, keep]
            if resampler is not None:
                mono = resampler.resample_chunk(mono)
            yield _as_int16(mono)
        if resampler is not None:
            yield _as_int16(resampler.resample_chunk(np.zeros(0, np.float32), last=True))


@contextmanager
def opened_sound(path: Path) -> Iterator[soundfile.SoundFile]:
    """The file, whole, opened as sound. Raises: NotARecording."""
    try:
        with opened(path) as file:
            if _cut_short(file):
                raise NotARecording(path, "its end is missing")
            file.seek(0)
            with soundfile.SoundFile(file) as sound:
                if not _SLOWEST_HZ <= sound.samplerate <= _FASTEST_HZ:
                    raise NotARecording(path, f"{sound.samplerate} Hz is no rate of speech")
                if sound.frames > LONGEST_S * sound.samplerate:
                    raise NotARecording(path, f"it is longer than {LONGEST_S // 3600:.0f} hours")
                yield sound
    except FileRefused as refused:
        raise NotARecording(path, _reason(refused)) from refused
    except OSError as error:
        raise NotARecording(path, f"it cannot be read ({error.strerror})") from error
    except soundfile.LibsndfileError as error:
        raise NotARecording(path, f"it is no sound ({error.error_string.rstrip('.')})") from error


def kept_channel(path: Path, sound: soundfile.SoundFile) -> int | None:
    """Number of the loudest channel where one undoes another; None for their average.

    Raises: NotARecording.
    """
    powers, power, seen = np.zeros(sound.channels), 0.0, 0
    for block in frames_of(sound):
        if not np.abs(block).max() < _LARGEST:
            raise NotARecording(path, "it holds values that are no sound")
        seen += len(block)
        powers += np.square(block, dtype=np.float64).sum(axis=0)
        power += float(np.square(block.mean(axis=1), dtype=np.float64).sum())
    if not seen:
        raise NotARecording(path, "it is empty")
    return int(powers.argmax()) if power < _CANCELLED * powers.max() else None


def frames_of(sound: soundfile.SoundFile) -> Iterator[NDArray[np.float32]]:
    """The sound of an open file in blocks, of shape (samples, channels), full scale being 1."""
    frames = max(1, _BLOCK_SAMPLES // sound.channels)
    while len(block := sound.read(frames, dtype="float32", always_2d=True)):
        yield block


def _as_int16(samples: NDArray[np.float32]) -> Samples:
    found: Samples = np.clip(np.rint(samples * 32_768.0), -32_768, 32_767).astype(np.int16)
    return found


def _cut_short(file: BinaryIO) -> bool:
    """True for a WAV file that holds less sound than it says; other kinds are not looked at.

    Source: Multimedia Programming Interface and Data Specifications 1.0 (IBM and Microsoft, 1991):
    chunks of an id, a size of four bytes, and what they hold, padded to even.
    """
    length, at = file.seek(0, SEEK_END), 12
    file.seek(0)
    if file.read(4) != b"RIFF":
        return False
    for _ in range(_MOST_CHUNKS):
        file.seek(at)
        if len(head := file.read(8)) < 8:
            break
        chunk, size = struct.unpack("<4sI", head)
        if chunk == b"data":
            return bool(size < _STREAMED_BYTES and at + 8 + size > length)
        at += 8 + size + size % 2
    return False


def recordings_in(place: Path) -> tuple[Path, ...]:
    """The file itself, or the WAV files of a folder by name.

    Raises: NotARecording for a folder without any, or where nothing is.
    """
    try:
        with reaching(place):
            if not place.is_dir():
                place.stat()
                return (place,)
            found = tuple(sorted(file for file in place.iterdir() if file.suffix.lower() == ".wav"))
    except FileRefused as refused:
        raise NotARecording(place, _reason(refused)) from refused
    if not found:
        raise NotARecording(place, "there is no .wav file in this folder")
    return found


def _reason(refused: FileRefused) -> str:
    if isinstance(refused.__cause__, FileNotFoundError):
        return "there is no such file"
    return refused.why if refused.__cause__ is None else f"it cannot be read ({refused.why})"
