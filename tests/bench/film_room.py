"""Commands under a film in the room of the bench, and the film as it is known."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
import pyroomacoustics
from scipy.interpolate import CubicSpline  # type: ignore[import-untyped]

from pattern.session.state import State
from tests.bench.rooms import OTHERS, dry_talk
from tests.bench.sayings import Saying
from voice.recognisers.net.learning.acoustics import (
    MICROPHONE_M,
    OTHERS_M,
    ROOM_M,
    TO_MAKER,
    TO_OTHERS,
    Floats,
    across,
    active_level,
    music,
)
from voice.recognisers.net.learning.speakers import Voice, speak
from voice.sound.ports import RATE_HZ, Samples

BEFORE_S, AFTER_S = 30.0, 1.9
"""Length of the film before a command and after it."""
LONG_S = 220.0
"""Length of the whole film."""
LATE = 640
"""Delay of the devices between film and microphone, in samples; 40 ms, by judgement."""
FULL = 8000.0


@dataclass(frozen=True, slots=True)
class Showing:
    """A film, how it sounds, and what is known of it."""

    snr_db: float
    """The maker's active level over the film's at the microphone."""
    bent: float = 0.0
    """Overdrive of the loudspeakers: 0 for none, 0.8 for mild, 1.5 for strong."""
    spare_m: float | None = None
    """Distance of a spare microphone from a telly of one channel; None for a film in stereo."""
    drift_millionths: float = 0.0
    distance_m: float = 1.0
    rt60_s: float = 0.4
    talks: bool = True
    """Whether there is talk in it, or music alone."""

    @property
    def name(self) -> str:
        """Its name in the table."""
        kind = {0.0: "clean", 0.8: "mildly bent", 1.5: "overdriven"}[self.bent]
        known = f"{'film' if self.talks else 'music'} in stereo, {kind}"
        if self.spare_m is not None:
            known = f"spare microphone at {self.spare_m} m, {self.drift_millionths:.0f} ppm"
        return f"{known}, {self.distance_m:g} m, {self.snr_db:+.0f} dB"


@dataclass(frozen=True, slots=True, eq=False)
class Shown:
    """One command under a film."""

    command: str
    heard: Samples
    known: Floats
    """Shape (channels, samples)."""
    began_s: float
    ended_s: float
    state: State
    """Of the session, while it is said."""


@cache
def path(rt60_s: float, source: tuple[float, ...], microphone: tuple[float, ...]) -> Floats:
    """Impulse response between two places, with its delay; image sources (pyroomacoustics)."""
    absorption, order = pyroomacoustics.inverse_sabine(rt60_s, ROOM_M)
    room = pyroomacoustics.ShoeBox(
        ROOM_M, fs=RATE_HZ, materials=pyroomacoustics.Material(absorption), max_order=order
    )
    room.add_source(list(source))
    room.add_microphone(list(microphone))
    room.compute_rir()
    return np.asarray(room.rir[0][0], dtype=np.float64)


@cache
def _film(*, talks: bool) -> Floats:
    """Music in stereo, unlike in its channels; where it `talks`, half as loud beside talk in both
    of them.
    """
    tune = music(LONG_S)
    tune = tune / np.abs(tune).max() * FULL
    both: Floats = np.stack([tune, np.roll(tune, 3 * RATE_HZ)])
    if not talks:
        return both
    talk = dry_talk(OTHERS)[: len(tune)]
    talk = talk / np.abs(talk).max() * FULL
    mixed: Floats = talk + both[:, : len(talk)] / 2
    return mixed


def _bent(sound: Floats, how: float) -> Floats:
    return sound if how == 0 else np.tanh(sound / FULL * how) / how * FULL


def _drifted(sound: Floats, millionths: float) -> Floats:
    """The sound by another clock; a cubic spline (scipy) between samples."""
    if millionths == 0:
        return sound
    places = np.arange(len(sound)) * (1 + millionths * 1e-6)
    spline = CubicSpline(np.arange(len(sound)), sound)
    return np.asarray(spline(np.minimum(places, len(sound) - 1)), dtype=np.float64)


def shown(showing: Showing, said: Iterable[tuple[Voice, Sequence[Saying]]]) -> Iterator[Shown]:
    """The words of each voice, each under another part of the film."""
    turn = 0
    for voice, sayings in said:
        sounds = speak(voice, [one.words for one in sayings])
        for one in sayings:
            yield _placed(showing, one, sounds[one.words].astype(np.float64), turn)
            turn += 1


def _placed(showing: Showing, saying: Saying, dry: Floats, turn: int) -> Shown:
    """What is said after half a minute of the film, at each turn at another place in it."""
    before = int(BEFORE_S * RATE_HZ)
    size = before + len(dry) + int(AFTER_S * RATE_HZ)
    film = _film(talks=showing.talks)
    start = turn * 7 * RATE_HZ % (film.shape[1] - size)
    film = film[:, start : start + size]
    if showing.spare_m is not None:
        film = film.mean(axis=0, keepdims=True)
    telly = MICROPHONE_M + OTHERS_M * TO_OTHERS / np.linalg.norm(TO_OTHERS)
    aside = np.array([0.2, -0.25, 0.0]) if len(film) == 2 else np.zeros(3)
    maker = MICROPHONE_M + showing.distance_m * TO_MAKER / np.linalg.norm(TO_MAKER)

    def come(to: Floats) -> tuple[Floats, Floats]:
        """The film and the maker at a place."""
        echo, said = np.zeros(size), np.zeros(size)
        for channel, side in zip(film, (telly + aside, telly - aside), strict=False):
            way = path(showing.rt60_s, tuple(side), tuple(to))
            echo += across(_bent(channel, showing.bent), way)[:size]
        heard = across(dry, path(showing.rt60_s, tuple(maker), tuple(to)))[: size - before]
        said[before : before + len(heard)] = heard
        return echo, said

    echo, said = come(MICROPHONE_M)
    louder = active_level(said) / active_level(echo) * 10 ** (-showing.snr_db / 20)
    known = film
    if showing.spare_m is not None:
        near, mine = come(telly + showing.spare_m * np.array([-0.8, 0.4, 0.45]))
        known = _drifted(near * louder + mine, showing.drift_millionths)[np.newaxis]
        known *= FULL / np.abs(known).max()
    late = np.concatenate([np.zeros(LATE), echo * louder])[:size]
    whole = said + late
    whole *= FULL / np.abs(said).max()
    whole += np.random.default_rng(3).normal(0, 4, size)
    whole /= max(1.0, np.abs(whole).max() / 16_384)
    loud = np.flatnonzero(np.abs(dry) > 300) + before
    return Shown(
        saying.words,
        np.rint(whole).astype(np.int16),
        known,
        loud[0] / RATE_HZ,
        loud[-1] / RATE_HZ,
        saying.state,
    )
