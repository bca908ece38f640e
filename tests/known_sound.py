"""Films and computed rooms, without any package that the program itself does not need."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from tests.sound_helpers import pink
from voice.sound.ports import RATE_HZ, Samples

Floats = NDArray[np.float64]


def film(length_s: float, seed: int = 0, level: float = 3000.0) -> Floats:
    """Noise that swells and falls five times a second, as talk does."""
    size = int(length_s * RATE_HZ)
    swell = np.random.default_rng(seed).uniform(0.05, 1.0, size // 3200 + 2)
    return pink(size, level, seed) * np.interp(np.arange(size) / 3200, range(len(swell)), swell)


def room(seed: int, late: int = 160, rt60_s: float = 0.3) -> Floats:
    """A path of direct sound and a tail of noise that falls 60 dB in `rt60_s` (Polack's model)."""
    size = int(rt60_s * RATE_HZ)
    fall = 10 ** (-3 * np.arange(size) / size)
    tail = 0.05 * np.random.default_rng(seed).normal(size=size) * fall
    return np.concatenate([np.zeros(late), [0.5], tail])


def across(sound: Floats, path: Floats) -> Floats:
    size = len(sound) + len(path)
    spectrum = np.fft.rfft(sound, size) * np.fft.rfft(path, size)
    heard: Floats = np.fft.irfft(spectrum, size)[: len(sound)]
    return heard


def samples(sound: Floats) -> Samples:
    heard: Samples = np.clip(np.rint(sound), -32_768, 32_767).astype(np.int16)
    return heard


def level_db(sound: NDArray[np.generic]) -> float:
    return float(10 * np.log10(np.mean(sound.astype(np.float64) ** 2) + 1e-9))
