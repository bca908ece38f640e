"""Late echo goes, what was said stays.

The room is that of the image source method (package pyroomacoustics), not made by this program.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.bench.acoustics import across, impulse
from tests.sound_helpers import noise
from voice.ports import RATE_HZ, Samples
from voice.recognisers.dereverberation import dried


@given(length=st.integers(0, 4000), level=st.integers(0, 32767), seed=st.integers(0, 9))
def test_length_and_range_are_kept(length: int, level: int, seed: int) -> None:
    sound = np.random.default_rng(seed).integers(-level, level + 1, length).astype(np.int16)
    after = dried(sound)
    assert after.dtype == np.int16
    assert after.shape == sound.shape
    assert np.abs(after.astype(int)).max(initial=0) <= 2 * level + 1


def _burst() -> Samples:
    """A third of a second of noise, then silence."""
    sound = np.zeros(RATE_HZ)
    sound[: RATE_HZ // 3] = np.random.default_rng(1).normal(0, 3000, RATE_HZ // 3)
    return sound.astype(np.int16)


def _level_db(sound: np.ndarray, from_s: float, to_s: float) -> float:
    part = sound[int(from_s * RATE_HZ) : int(to_s * RATE_HZ)].astype(np.float64)
    return float(10 * np.log10(np.mean(part**2) + 1e-9))


def test_what_is_dry_stays_as_it_is() -> None:
    sound = _burst()
    assert _level_db(dried(sound), 0.05, 0.3) == pytest.approx(_level_db(sound, 0.05, 0.3), abs=2)


def test_echo_of_a_room_falls() -> None:
    heard = across(_burst().astype(np.float64), impulse(1.0, 0.4))[:RATE_HZ].astype(np.int16)
    tail = 0.333 + 0.06
    before, after = _level_db(heard, tail, tail + 0.1), _level_db(dried(heard), tail, tail + 0.1)
    assert after < before - 3
    speech = _level_db(dried(heard), 0.05, 0.3) - _level_db(heard, 0.05, 0.3)
    assert speech == pytest.approx(0, abs=2.5)


def test_silence_stays_silence() -> None:
    assert not dried(np.zeros(3000, np.int16)).any()
    assert np.abs(dried((noise(0.2, 3.0) // 1).astype(np.int16))).max() <= 20
