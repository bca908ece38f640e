"""Utterances in voices that nobody has, made by a vocoder."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence

import numpy as np

from voice.recognisers.net.learning.said import Said, said
from voice.sound.ports import RATE_HZ

_LONGEST_WARPED_S = 7.0


_FRAME_MS = 8.0
"""How far apart the vocoder looks."""


def warped(voices: Sequence[Sequence[Said]], rng: random.Random, utterances: int) -> Iterator[Said]:
    """Utterances in voices that nobody has: another length of throat, another pitch.

    By the vocoder WORLD (Morise et al. 2016; the package pyworld).
    """
    for _ in range(utterances):
        one = rng.choice(rng.choice(voices))
        if len(one.samples) < _LONGEST_WARPED_S * RATE_HZ:
            throat = rng.uniform(0.83, 1.2)
            pitch = throat ** rng.uniform(0.3, 1.5) * rng.uniform(0.8, 1.25)
            yield from said(_warped(one, throat, pitch), RATE_HZ, one.words)


def _warped(one: Said, throat: float, pitch: float) -> np.ndarray:
    import pyworld

    sound = one.samples / 32768.0
    rough_hz, times = pyworld.dio(
        sound, RATE_HZ, f0_floor=60.0, f0_ceil=500.0, frame_period=_FRAME_MS
    )
    pitch_hz = pyworld.stonemask(sound, rough_hz, times, RATE_HZ)
    spectra = pyworld.cheaptrick(sound, pitch_hz, times, RATE_HZ)
    breath = pyworld.d4c(sound, pitch_hz, times, RATE_HZ)
    place = np.minimum(np.arange(spectra.shape[1]) / throat, spectra.shape[1] - 1)
    below, share = place.astype(int), place % 1
    above = np.minimum(below + 1, spectra.shape[1] - 1)
    moved = [
        np.ascontiguousarray(rows[:, below] * (1 - share) + rows[:, above] * share)
        for rows in (np.log(spectra), breath)
    ]
    return np.asarray(
        pyworld.synthesize(pitch_hz * pitch, np.exp(moved[0]), moved[1], RATE_HZ, _FRAME_MS)
    )
