"""The checks of `rounds-aloud check` with the sound devices: list, levels and noise."""

from __future__ import annotations

import re
import sys
import time
from argparse import Namespace
from collections.abc import Callable, Iterator

import numpy as np

from voice.cli import device_options, over_check
from voice.cli.checks import Finding
from voice.dialogue.trouble import CLEAR_DB, clear_db
from voice.sound import device_choice
from voice.sound.card import Sound
from voice.sound.devices import (
    load_portaudio,
    native_messages_hidden,
    portaudio_caller,
    restart_portaudio,
)
from voice.sound.duplex import OPEN_LIMIT_S
from voice.sound.ports import FULL_SCALE, RATE_HZ, AudioBlock, Samples
from voice.sound.sound_errors import SPOKEN, Kind, SoundUnavailableError
from voice.sound.sound_watch import LevelWatch, peak_db
from voice.speech.delivery import Delivery
from voice.speech.played_speaker import PlayedSpeaker
from voice.speech.speaker import Renderer, SpeechFailedError

LOUD_ROOM_DB = -40.0
"""Noise level that is reported as a loud room; by judgement, since microphone levels vary."""
SPOKE_DB = 6.0
"""Smallest difference of the loudest and the quietest moment if somebody spoke."""
_TYPE = "Until then: rounds-aloud call --typed"
_METER = 30


def devices() -> Iterator[Finding]:
    """Microphones and loudspeakers, with the numbers that choose them."""
    known: dict[Kind, dict[int, str]] = {}

    def look() -> None:
        library = load_portaudio()
        restart_portaudio(library)
        known.update({kind: device_choice.names(library, kind) for kind in SPOKEN})

    try:
        with native_messages_hidden():
            portaudio_caller().call(look, OPEN_LIMIT_S)
    except SoundUnavailableError:
        return  # reported with the microphone
    for kind, name in SPOKEN.items():
        if known[kind]:
            yield Finding(f"{name}s", good=True, told=device_choice.listed(known[kind]))


def listening(args: Namespace) -> Iterator[Finding]:
    """Level and noise of the microphone, and what they mean for speaking to it."""
    try:
        with native_messages_hidden(), Sound(device_options.settings(args)) as sound:
            _ask(sound, args.seconds)
            show = _meter if sys.stdout.isatty() or args.technical else _no_meter
            heard, wrong = _listened(sound, args.seconds, show)
            if show is _meter:
                print(f"\r{' ' * (_METER + 2)}", end="\r")
            over = None if wrong else over_check.measured(sound)
    except SoundUnavailableError as refused:
        plain = f"{re.sub(r' [(][^)]*[)]', '', str(refused))} {_TYPE}"
        yield Finding("microphone", good=False, told=f"{refused} {_TYPE}", plain=plain)
        return
    floor_db = _floor_db(heard)
    told = f"noise at {floor_db:.0f} dB, loudest {peak_db(heard):.0f} dB"
    plain = " ".join(wrong) or "it works"
    yield Finding("microphone", good=not wrong, told=" ".join(wrong) or told, plain=plain)
    if not wrong:
        yield Finding("noise", good=True, told=noise_told(floor_db, clear_db(heard)))
    if over is not None:
        yield over_check.finding(over)


def noise_told(floor_db: float, over_db: float) -> str:
    """Expected recognition with this noise, and a voice `over_db` above it."""
    room = "it is loud here" if floor_db > LOUD_ROOM_DB else "it is quiet enough"
    if over_db < SPOKE_DB:
        return f"{room}; nobody spoke, so say something next time"
    if over_db < CLEAR_DB:
        return (
            "your voice is hardly louder than the room: come closer to the microphone, or make it"
            " quieter"
        )
    return "your voice is clear; other people's voices disturb me more than noise does"


def _floor_db(heard: Samples) -> float:
    """Level of the quietest tenth, in dBFS."""
    size = RATE_HZ // 10
    if len(heard) < size:
        return -120.0
    pieces = heard[: len(heard) // size * size].reshape(-1, size).astype(np.float64)
    levels = 10 * np.log10(np.var(pieces, axis=1) / FULL_SCALE**2 + 1e-12)
    return float(np.percentile(levels, 10))


def _ask(sound: Sound, length_s: float) -> None:
    """Ask aloud and in print; sound heard meanwhile is dropped."""
    words = f"Say something for {length_s:g} seconds. After that I play a rushing sound."
    print(words, flush=True)
    with Renderer(Delivery()) as renderer:
        try:
            PlayedSpeaker(renderer, sound).say(words)
        except SpeechFailedError:
            return  # reported with the speech
    while sound.playing:
        time.sleep(0.05)
    sound.drain()


def _listened(
    sound: Sound, length_s: float, show: Callable[[float], None]
) -> tuple[Samples, list[str]]:
    """The sound heard, and its problems."""
    blocks, wrong, levels = [np.zeros(0, np.int16)], list[str](), LevelWatch()
    end_s = time.monotonic() + length_s
    while (left_s := end_s - time.monotonic()) > 0:
        item = sound.read(left_s)
        if isinstance(item, AudioBlock):
            blocks.append(item.samples)
            wrong += [condition.sentence for condition in levels.feed(item)]
            show(peak_db(item.samples))
        elif item is not None:
            wrong.append(item.sentence)
    return np.concatenate(blocks), wrong


def _no_meter(_level_db: float) -> None:
    """Print nothing, where nobody looks at a bar that moves."""


def _meter(level_db: float) -> None:
    """Print a level bar from -60 dBFS to full scale, on one line."""
    filled = round(_METER * min(max(level_db + 60, 0.0), 60.0) / 60)
    print(f"\r[{'#' * filled}{'.' * (_METER - filled)}]", end="", flush=True)
