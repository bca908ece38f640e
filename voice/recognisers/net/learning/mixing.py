"""An utterance as it may reach the microphone: in rooms, with talk, music and noises beside it."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pyroomacoustics
import soxr  # type: ignore[import-untyped]

from voice.recognisers.net.learning.acoustics import across
from voice.recognisers.net.learning.noises import NOISES, Sound
from voice.recognisers.net.learning.said import Said
from voice.sound.ports import FULL_SCALE, RATE_HZ

_ROOMS = 260
_TALK, _SOUNDS = 0.62, ("music", "music", "music", "swell", "swell", "white", "clicks", "pink")
_NARROW = 0.25
"""How many come as from a telephone."""
_CUT, _BEFORE_S, _AFTER_S = 0.4, (-0.04, 0.25), (-0.06, 0.37)
"""How many are cut out, with silence before or after; and where, from the words on."""
_NOISE_DB, _TALK_DB = (-2.0, 18.0), (1.0, 15.0)
"""How far the maker is above what else sounds."""


@dataclass(frozen=True, slots=True)
class Room:
    """A room: its impulse responses from the maker, and from whoever else speaks."""

    maker: Sound
    other: Sound


def rooms(seed: int) -> list[Room]:
    """Rooms of many sizes; reverberation of 0.15 to 0.7 s, the maker at 0.2 to 2.3 m."""
    rng, found = np.random.default_rng(seed), list[Room]()
    while len(found) < _ROOMS:
        size = rng.uniform((2.8, 2.5, 2.2), (7.0, 6.0, 3.2))
        rt60_s = rng.uniform(0.15, 0.7)
        try:
            absorption, order = pyroomacoustics.inverse_sabine(rt60_s, size)
        except ValueError:  # no wall swallows so much in a room of that size
            continue
        microphone = rng.uniform((0.5, 0.5, 0.6), (size[0] - 0.5, size[1] - 0.5, 1.3))
        maker, other = (_near(microphone, size, *how, rng) for how in ((0.2, 2.3), (1.2, 3.5)))
        if maker is None or other is None:
            continue
        room = pyroomacoustics.ShoeBox(
            size,
            fs=RATE_HZ,
            materials=pyroomacoustics.Material(absorption),
            max_order=min(order, 40),
        )
        room.add_source(maker)
        room.add_source(other)
        room.add_microphone(microphone)
        room.compute_rir()
        found.append(Room(*(_from_direct(room.rir[0][n], rt60_s) for n in (0, 1))))
    return found


def _near(
    microphone: Sound, size: Sound, least_m: float, most_m: float, rng: np.random.Generator
) -> Sound | None:
    for _ in range(200):
        way = rng.normal(size=3) * (1.0, 1.0, 0.3)
        place: Sound = microphone + rng.uniform(least_m, most_m) * way / np.linalg.norm(way)
        if np.all(place > 0.2) and np.all(place < size - 0.2):
            return place
    return None


def _from_direct(click: Sound, rt60_s: float) -> Sound:
    direct = int(np.argmax(np.abs(click)))
    part: Sound = np.asarray(click[max(0, direct - 16) :][: int(RATE_HZ * rt60_s)], np.float64)
    return part / float(np.abs(part).max())


def faster(sound: Sound, least: float, most: float, rng: random.Random) -> Sound:
    """Faster and higher, or slower and lower, by a factor within those bounds."""
    return np.asarray(soxr.resample(sound, RATE_HZ, RATE_HZ / rng.uniform(least, most)))


def whole(said: Said) -> Sound:
    """Its samples, 1 at full scale."""
    return said.samples.astype(np.float64) / FULL_SCALE


class Mixer:
    """Makes pairs of one utterance: as clean as it was spoken, and as it is heard in a room."""

    def __init__(self, everybody: Sequence[Said], places: Sequence[Room], seed: int) -> None:
        """Take all that may be spoken in the background, and the rooms."""
        self._everybody, self._rooms = everybody, places
        self._rng, self._random = random.Random(seed), np.random.default_rng(seed)

    def pair(self, speech: Sound, size: int) -> tuple[Sound, Sound]:
        """Both with so many samples, the words at the same place."""
        rng = self._rng
        lead = rng.randint(0, max(0, size - len(speech)))
        clean = np.zeros(size)
        clean[lead : lead + len(speech)] = speech[:size]
        room, how = rng.choice(self._rooms), rng.random()
        heard = clean
        if how > 0.22 and rng.random() < 0.75:
            heard = across(clean, room.maker)[:size]
        if how > 0.35:
            heard = heard + self._beside(_level(heard), room, size)
        hiss_db = rng.uniform(28, 50)
        heard = heard + self._random.normal(size=size) * _level(heard) * 10 ** (-hiss_db / 20)
        clean = clean + self._random.normal(size=size) * 0.0002
        heard = heard / np.abs(heard).max() * rng.uniform(0.05, 0.9)
        if rng.random() < _NARROW:
            heard = self._through_a_telephone(heard)
        return clean, self._cut_out(heard, lead, lead + len(speech))

    def _cut_out(self, heard: Sound, first: int, last: int) -> Sound:
        """As the end of talk is found: at times a little early."""
        rng = self._rng
        if rng.random() < _CUT:
            heard[: max(0, first - int(rng.uniform(*_BEFORE_S) * RATE_HZ))] = 0.0
        if rng.random() < _CUT:
            heard[last + int(rng.uniform(*_AFTER_S) * RATE_HZ) :] = 0.0
        return heard

    def _through_a_telephone(self, sound: Sound) -> Sound:
        """As a headset or an old recording has it: a narrow band, at times in eight bits."""
        rate_hz = self._rng.choice((8000, 8000, 11_025))
        narrow = soxr.resample(soxr.resample(sound, RATE_HZ, rate_hz), rate_hz, RATE_HZ)
        narrow = np.resize(narrow, len(sound))
        return np.round(narrow * 127) / 127 if self._rng.random() < 0.4 else narrow

    def _beside(self, level: float, room: Room, size: int) -> Sound:
        rng = self._rng
        if rng.random() < _TALK:
            other = self._talk(size)
            other = across(other, room.other)[:size] if rng.random() < 0.8 else other
            under_db = rng.uniform(*_TALK_DB)
        else:
            other = NOISES[rng.choice(_SOUNDS)](self._random, size)
            under_db = rng.uniform(*_NOISE_DB)
        return other * (level / max(1e-9, _level(other)) * 10 ** (-under_db / 20))

    def _talk(self, size: int) -> Sound:
        out = np.zeros(size + RATE_HZ)
        start = -self._rng.randint(0, 2 * RATE_HZ)
        while start < size:
            part = whole(self._rng.choice(self._everybody))
            if self._rng.random() < 0.5:
                part = faster(part, 0.85, 1.15, self._rng)
            first, last = max(0, start), min(len(out), start + len(part))
            if last > first:
                out[first:last] += part[first - start : last - start]
            start += len(part) + self._rng.randint(0, RATE_HZ // 2)
        return out[:size]


def _level(sound: Sound) -> float:
    """Root mean square of the frames of 20 ms that are not 25 dB below the loudest."""
    power = np.mean(sound[: len(sound) // 320 * 320].reshape(-1, 320) ** 2, axis=1)
    return math.sqrt(float(power[power >= power.max() * 10**-2.5].mean()) + 1e-12)
