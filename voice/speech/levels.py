"""Speech cut to its sound and brought to one level, whichever voice it comes from."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from voice.sound.ports import FULL_SCALE, RATE_HZ, Samples

LEVEL_DB = -20.0
"""Level of what sounds, over full scale: near that of eSpeak at its loudest, as it comes."""
PEAK = 0.9
"""No sample is above this part of full scale: changing the rate of the sound adds a little."""
_AUDIBLE = 30 / FULL_SCALE
"""Samples above this (-61 dBFS) are speech; the engines' silence is exact zeros, or near."""
_LEAD_S, _TAIL_S = 0.005, 0.1
_FRAME_S = 0.02
_SOUNDING_DB = 25.0
"""A frame sounds that is no further than this below the loudest."""

Floats = NDArray[np.floating[Any]]


def trimmed(sound: Floats, rate_hz: int) -> Floats:
    """Trim the engine's silence at both ends, with a short margin for soft sounds."""
    audible = np.flatnonzero(np.abs(sound) > _AUDIBLE)
    if not len(audible):
        return sound[:0]
    first = max(0, int(audible[0]) - round(_LEAD_S * rate_hz))
    return sound[first : int(audible[-1]) + round(_TAIL_S * rate_hz)]


def level_db(sound: Floats, rate_hz: int) -> float:
    """Level of what sounds, in dB over full scale; pauses do not count."""
    size = max(1, round(_FRAME_S * rate_hz))
    padded = np.pad(sound.astype(np.float64), (0, -len(sound) % size))
    powers = np.mean(padded.reshape(-1, size) ** 2, axis=1)
    if not len(powers) or not powers.max():
        return -np.inf
    sounding = powers[powers >= powers.max() * 10 ** (-_SOUNDING_DB / 10)]
    return float(10 * np.log10(sounding.mean()))


def at_one_level(sound: Floats, rate_hz: int, volume: float) -> Samples:
    """The sound at `LEVEL_DB`, or as near as `PEAK` lets it come, and at 0..1 of that."""
    level = level_db(sound, rate_hz)
    if not np.isfinite(level):
        return np.zeros(0, np.int16)
    gain = min(10 ** ((LEVEL_DB - level) / 20), PEAK / float(np.max(np.abs(sound))))
    return np.round(sound * gain * volume * FULL_SCALE).astype(np.int16)


def after_silence(length_s: float, sound: Samples) -> Samples:
    """The sound after a pause, at `RATE_HZ`; it cannot be changed by who gets it."""
    if length := round(length_s * RATE_HZ):
        sound = np.concatenate([np.zeros(length, np.int16), sound])
    sound.setflags(write=False)
    return sound
