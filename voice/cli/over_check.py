"""The check that plays a sound, and tells what it will be able to hear the maker over."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import NamedTuple

import numpy as np

from voice.cli.checks import Finding
from voice.dialogue.talk_over import ENOUGH_DB
from voice.sound.card import Sound
from voice.sound.duplex import OPEN_LIMIT_S
from voice.sound.known_sound import KnownSound, WithoutKnown
from voice.sound.played_here import NoMonitorError, PlayedHere
from voice.sound.ports import RATE_HZ, AudioBlock, AudioSource, Condition, Samples

RUSH_S, RUSH_LEVEL = 7.0, 1200.0
"""Length and level of the sound that is played; so long does learning take, by trials."""
TWICE_DB, EQUAL_DB = 20.0, 12.0
"""Gains with which a film twice as loud as the maker, and one as loud, is no more than talk in the
room, 10 dB weaker; by judgement."""
HEARD_DB = 6.0
"""Level of the sound over that of the room, from which the microphone hears it."""
_LATE_S = 0.6
"""Longest time from playing to hearing."""


class Over(NamedTuple):
    """Results of playing a sound."""

    why_not: str
    """Reason why other programs' sound can't be heard; empty where it can."""
    gain_db: float
    delay_s: float
    louder_db: float
    """Level of the sound at the microphone over that of the room."""


class _Metered:
    """A source that keeps the levels of its blocks."""

    def __init__(self, source: AudioSource) -> None:
        self._source = source
        self.levels_db: list[float] = []

    def read(self, timeout_s: float) -> AudioBlock | Condition | None:
        item = self._source.read(timeout_s)
        if isinstance(item, AudioBlock):
            power = float(np.var(item.samples.astype(np.float64)))
            self.levels_db.append(10 * float(np.log10(power + 1)))
        return item


def measured(sound: Sound) -> Over:
    """Play a rushing sound, and find out how much of it can be taken out."""
    with _known(sound) as (known, why_not):
        meter = _Metered(sound)
        source = WithoutKnown(meter, known, tells=False)
        _read_until(source, time.monotonic() + _LATE_S)
        quiet = len(meter.levels_db)
        sound.play(_rush())
        while sound.playing:
            source.read(0.1)
        levels_db = meter.levels_db
        room_db = float(np.median(levels_db[:quiet] or [0.0]))
        loud_db = float(np.median(levels_db[-round(RUSH_S * RATE_HZ / 640) :] or [0.0]))
        return Over(why_not, source.steady_gain_db, source.delay_s, loud_db - room_db)


def finding(over: Over) -> Finding:
    """Told, with figures, what can be heard over."""
    plain = f"{_film(over)}; {_own_voice(over)}"
    figures = f"takes out {over.gain_db:.0f} dB, {1000 * over.delay_s:.0f} ms late"
    figures += f", heard {over.louder_db:.0f} dB over the room"
    return Finding("playing", good=True, told=f"{plain} ({figures})", plain=plain)


def _film(over: Over) -> str:
    if over.why_not:
        return (
            f"I can't hear what this machine plays ({over.why_not}): turn a film down when you"
            " speak to me"
        )
    if over.louder_db < HEARD_DB:
        return (
            "a call takes what this machine plays, such as a film, out of what the microphone hears"
        )
    if over.gain_db >= TWICE_DB:
        return "I will hear you over a film on this machine, even one twice as loud as you"
    if over.gain_db >= EQUAL_DB:
        return "I will hear you over a film on this machine, if it is no louder than you"
    return "turn a film down when you speak to me"


def _own_voice(over: Over) -> str:
    if over.louder_db < HEARD_DB:
        return (
            "the microphone does not hear me, so with headphones on, begin with --headphones and"
            " talk over me"
        )
    if over.gain_db >= ENOUGH_DB:
        return "you can talk over me while I speak, without headphones"
    return "wait until I am silent before you speak, or wear headphones and begin with --headphones"


@contextmanager
def _known(sound: Sound) -> Iterator[tuple[KnownSound, str]]:
    """All that this machine plays; this program's own sound and why, where that can't be had."""
    here = PlayedHere()
    try:
        here.open(OPEN_LIMIT_S)
    except NoMonitorError as error:
        yield sound.own_voice(), str(error)
        return
    try:
        yield here, ""
    finally:
        here.close()


def _read_until(source: WithoutKnown, end_s: float) -> None:
    while time.monotonic() < end_s:
        source.read(0.1)


def _rush() -> Samples:
    """Noise with the same power in every octave, which begins and ends softly."""
    size = round(RUSH_S * RATE_HZ)
    rng = np.random.default_rng(1)
    lines = rng.normal(size=size // 2 + 1) + 1j * rng.normal(size=size // 2 + 1)
    lines[0] = 0
    lines[1:] /= np.sqrt(np.arange(1, len(lines)))
    sound = np.fft.irfft(lines, size)
    soft = np.minimum(np.minimum(np.arange(size), np.arange(size)[::-1]) / (RATE_HZ / 4), 1.0)
    rush: Samples = np.rint(sound * soft * RUSH_LEVEL / sound.std()).astype(np.int16)
    return rush
