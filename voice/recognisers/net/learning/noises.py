"""Sounds in a room beside speech, made anew each time: for so many samples at 16 kHz."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from voice.sound.ports import RATE_HZ

Sound = NDArray[np.float64]


def _white(rng: np.random.Generator, size: int) -> Sound:
    return rng.normal(size=size)


def _pink(rng: np.random.Generator, size: int) -> Sound:
    """Noise whose spectrum falls; at times with a hump."""
    spectrum = np.fft.rfft(rng.normal(size=size))
    number = np.maximum(np.arange(len(spectrum)), 1)
    spectrum /= number ** rng.uniform(0.2, 1.1)
    if rng.random() < 0.4:
        middle, width = rng.uniform(0.025, 0.75), rng.uniform(0.02, 0.3)
        spectrum *= 1 + 3 * np.exp(-(((number / len(spectrum) - middle) / width) ** 2))
    return np.fft.irfft(spectrum, size)


def _swell(rng: np.random.Generator, size: int) -> Sound:
    clock_s = np.arange(size) / RATE_HZ
    return _pink(rng, size) * (1 + 0.5 * np.sin(clock_s * rng.uniform(0.5, 6) + rng.uniform(0, 6)))


def _clicks(rng: np.random.Generator, size: int) -> Sound:
    noise = _pink(rng, size)
    noise *= 0.02 * np.std(noise)
    for _ in range(max(1, int(size / RATE_HZ * rng.uniform(1, 6)))):
        fade = np.exp(-np.arange(800) / RATE_HZ * rng.uniform(60, 400))
        start = rng.integers(0, size - 800)
        noise[start : start + 800] += rng.normal(size=800) * fade
    return noise


def _music(rng: np.random.Generator, size: int) -> Sound:
    """Chords that fade, in a scale, speed and colour drawn anew each time."""
    steps = rng.choice([0, 2, 3, 4, 5, 7, 8, 9, 11, 12, 14, 16, 17, 19, 21, 23, 24], 12)
    scale_hz = rng.uniform(60, 220) * 2 ** (steps / 12)
    beat, notes = int(rng.uniform(0.15, 0.7) * RATE_HZ), rng.integers(1, 5)
    fall, partials = rng.uniform(1, 8), rng.integers(2, 9)
    clock_s = np.arange(2 * RATE_HZ) / RATE_HZ
    out = np.zeros(size + len(clock_s))
    for start in range(0, size, beat):
        for note_hz in rng.choice(scale_hz, notes):
            for k in range(1, partials):
                wave = np.sin(2 * np.pi * k * note_hz * clock_s + rng.uniform(0, 6))
                out[start : start + len(clock_s)] += wave / k * np.exp(-fall * clock_s)
    return out[:size]


NOISES: dict[str, Callable[[np.random.Generator, int], Sound]] = {
    "music": _music,
    "swell": _swell,
    "white": _white,
    "clicks": _clicks,
    "pink": _pink,
}
