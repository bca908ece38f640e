"""A film that plays in the simulated room, louder than the maker."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from voice.sound.known_sound import Played
from voice.sound.ports import FULL_SCALE, RATE_HZ, Samples

LOUDER_DB = 10.0
"""Level of the film over the maker's at the microphone."""
RT60_S = 0.4
"""Time in which the room's sound falls by 60 dB; a furnished living room, by judgement."""
_APART_S = 0.002
"""Difference between the ways of the two channels: 0.7 m; by judgement."""
_REVERBERANT = 0.7
"""Root of the share of reverberation at a listener some metres away; by judgement."""


class Film:
    """The film's channels, and the same as the microphone hears them; it repeats without end."""

    def __init__(self, channels: NDArray[np.float32], maker: Samples) -> None:
        """`channels` has shape (channels, samples); `maker` tells how loud the maker speaks."""
        self._played = channels
        paths = [path(number) for number in range(len(channels))]
        heard = np.sum([across(*each) for each in zip(channels, paths, strict=True)], axis=0)
        gain = level(maker) * 10 ** (LOUDER_DB / 20) / max(level(heard), 1e-9)
        self._heard = heard * gain
        size = max(map(len, paths))
        self.path = gain * np.sum([np.pad(each, (0, size - len(each))) for each in paths], axis=0)
        """From all loudspeakers together to the microphone."""
        loudest = float(np.max(np.abs(self._heard)))
        self.sensitivity = min(1.0, FULL_SCALE / 2 / max(loudest, 1.0))
        """Sensitivity of a microphone that the film does not overload."""
        self._at = self._taken = 0

    def heard(self, at: int, count: int) -> NDArray[np.float64]:
        """The film at the microphone, so many samples from a place on."""
        self._at = at + count
        found: NDArray[np.float64] = self._heard[self._places(at, count)]
        return found

    def take(self) -> Played:
        """The film as it is played, up to the place at which it was last heard."""
        begin, self._taken = self._taken, self._at
        frames = self._played[:, self._places(begin, self._at - begin)]
        return Played(frames, self._at / RATE_HZ, run=1)

    def _places(self, at: int, count: int) -> NDArray[np.int64]:
        places: NDArray[np.int64] = np.arange(at, at + count) % self._played.shape[1]
        return places


def path(number: int) -> NDArray[np.float64]:
    """A direct sound and a tail of noise that dies away (Polack's model of a room)."""
    size = round(RT60_S * RATE_HZ)
    tail = np.random.default_rng(20 + number).normal(size=size)
    tail *= 10 ** (-3 * np.arange(size) / size)
    tail *= _REVERBERANT / np.sqrt(np.sum(tail**2))
    late = round((0.01 + number * _APART_S) * RATE_HZ)
    return np.concatenate([np.zeros(late), [1.0], tail])


def across(sound: NDArray[np.generic], way: NDArray[np.float64]) -> NDArray[np.float64]:
    """The sound at the end of a way; its tail runs into the beginning, as it repeats."""
    size = len(sound)
    whole = np.zeros(-(-len(way) // size) * size)
    whole[: len(way)] = way
    way = whole.reshape(-1, size).sum(axis=0)
    return np.fft.irfft(np.fft.rfft(sound) * np.fft.rfft(way), size)


def level(sound: NDArray[np.generic]) -> float:
    """Root mean square of the sound."""
    return float(np.sqrt(np.mean(sound.astype(np.float64) ** 2)))
