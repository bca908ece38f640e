"""Rooms to learn in: impulse responses by image sources (package pyroomacoustics)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pyroomacoustics

from voice.recognisers.net.learning.noises import Sound
from voice.sound.ports import RATE_HZ


@dataclass(frozen=True, slots=True)
class Room:
    """A room: its impulse responses from the maker, and from whoever else speaks."""

    maker: Sound
    other: Sound


def rooms(seed: int, count: int) -> list[Room]:
    """So many rooms of many sizes; reverberation of 0.15 to 0.7 s, the maker at 0.2 to 2.3 m."""
    rng, found = np.random.default_rng(seed), list[Room]()
    while len(found) < count:
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
