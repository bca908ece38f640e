"""Sound as it comes to the microphone across a room; image sources (package pyroomacoustics)."""

from __future__ import annotations

from functools import cache

import numpy as np
import pyroomacoustics
from numpy.typing import NDArray
from scipy.fft import irfft, next_fast_len, rfft  # type: ignore[import-untyped]

from voice.sound.ports import RATE_HZ

Floats = NDArray[np.float64]
ROOM_M = (5.0, 4.0, 2.6)
"""A living room; by judgement, no source."""
MICROPHONE_M = np.array([2.1, 1.6, 0.9])
TO_MAKER = np.array([0.8, 0.5, 0.33])
TO_OTHERS = np.array([0.75, 0.66, 0.0])
OTHERS_M = 2.5
_ACTIVE = 10**-2.5


@cache
def impulse(distance_m: float, rt60_s: float, *, maker: bool = True) -> Floats:
    """Impulse response of the room; its direct sound comes first and has a level of 1."""
    absorption, order = pyroomacoustics.inverse_sabine(rt60_s, ROOM_M)
    room = pyroomacoustics.ShoeBox(
        ROOM_M, fs=RATE_HZ, materials=pyroomacoustics.Material(absorption), max_order=order
    )
    way = TO_MAKER if maker else TO_OTHERS
    room.add_source(MICROPHONE_M + distance_m * way / np.linalg.norm(way))
    room.add_microphone(MICROPHONE_M)
    room.compute_rir()
    heard: Floats = np.asarray(room.rir[0][0], dtype=np.float64)
    direct = int(np.argmax(np.abs(heard)))
    tail: Floats = heard[max(0, direct - 16) :] / abs(heard[direct])
    return tail


def across(sound: Floats, click: Floats) -> Floats:
    """The sound at the microphone, longer by its tail."""
    size = len(sound) + len(click) - 1
    fast = next_fast_len(size, real=True)
    spectrum = rfft(sound, fast) * rfft(click, fast)
    return np.asarray(irfft(spectrum, fast)[:size])


def active_level(sound: Floats) -> float:
    """Root mean square while it sounds: of frames of 20 ms not 25 dB below the loudest.

    That is near the active speech level of ITU-T P.56, which needs a longer sound than a word.
    """
    frames = sound[: len(sound) // 320 * 320].reshape(-1, 320)
    power = np.mean(frames**2, axis=1)
    return float(np.sqrt(np.mean(power[power > power.max() * _ACTIVE])))


def kettle(seconds: float) -> Floats:
    """A kettle that boils: noise whose spectrum falls 3 dB an octave, swelling a little."""
    count = int(seconds * RATE_HZ)
    rng = np.random.default_rng(11)
    spectrum = np.fft.rfft(rng.normal(size=count))
    spectrum /= np.sqrt(np.maximum(np.arange(len(spectrum)), 1))
    return np.fft.irfft(spectrum, count) * (1 + 0.2 * np.sin(np.arange(count) / RATE_HZ * 2))


def music(seconds: float) -> Floats:
    """Chords of decaying strings, four notes every 0.4 s, drawn from one scale."""
    rng, beat = np.random.default_rng(12), int(0.4 * RATE_HZ)
    scale_hz = 110 * 2 ** (np.array([0, 2, 4, 7, 9, 12, 14, 16, 19, 21, 24]) / 12)
    out = np.zeros(int(seconds * RATE_HZ) + 4 * beat)
    clock_s = np.arange(4 * beat) / RATE_HZ
    for start in range(0, len(out) - 4 * beat, beat):
        for note_hz in rng.choice(scale_hz, 4, replace=False):
            partials = sum(np.sin(2 * np.pi * k * note_hz * clock_s) / k for k in range(1, 7))
            out[start : start + 4 * beat] += partials * np.exp(-3 * clock_s)
    return out[: int(seconds * RATE_HZ)]
