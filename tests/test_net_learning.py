"""What the net learns from is mixed as it says: tried where torch is installed."""

from __future__ import annotations

import numpy as np
import pytest
import soxr  # type: ignore[import-untyped]
from hypothesis import given
from hypothesis import strategies as st

from voice.recognisers.net.learning.bank import Bank
from voice.recognisers.net.learning.mixing import Drawn, Mixer
from voice.recognisers.net.learning.random_rooms import rooms
from voice.sound.ports import FULL_SCALE, RATE_HZ, Samples

torch = pytest.importorskip("torch", reason="torch is not installed")


def speech(seed: int, seconds: float = 1.0) -> Samples:
    """Noise without the highest sounds, as speech is."""
    noise = np.random.default_rng(seed).normal(size=int(seconds * RATE_HZ))
    slow = soxr.resample(soxr.resample(noise, RATE_HZ, 8000), 8000, RATE_HZ)
    return np.asarray((slow * (16_000 / np.abs(slow).max())).round(), np.int16)


SOUNDS = [speech(n, 0.5 + n / 4) for n in range(6)]
BANK = Bank(SOUNDS, "cpu")


def played(numbers: list[int], begins: list[float], speeds: list[float], size: int) -> np.ndarray:
    rows = np.array([begins]), np.array([speeds])
    found: np.ndarray = BANK.played(np.array([numbers]), *rows, size)[0].numpy()
    return found


@given(st.integers(0, 4), st.integers(-4000, 9000))
def test_a_sound_is_played_where_it_begins(number: int, begin: int) -> None:
    found = played([number], [float(begin)], [1.0], 12_000)
    whole = np.zeros(12_000 + 30_000)
    sound = SOUNDS[number][:-1] / FULL_SCALE
    whole[10_000 + begin : 10_000 + begin + len(sound)] = sound[: len(whole) - 10_000 - begin]
    np.testing.assert_allclose(found, whole[10_000:22_000], atol=1e-4)


@pytest.mark.parametrize("speed", [0.82, 1.07, 1.2])
def test_a_faster_sound_is_that_of_a_resampler(speed: float) -> None:
    """Against soxr, a general-purpose resampler."""
    wanted = soxr.resample(SOUNDS[5] / FULL_SCALE, RATE_HZ, RATE_HZ / speed)[200:-200]
    found = played([5], [0.0], [speed], len(wanted) + 400)[200:-200]
    error_db = 10 * np.log10(np.mean((found - wanted) ** 2) / np.mean(wanted**2))
    assert error_db < -25


def test_the_next_sound_breaks_off_the_one_before() -> None:
    both = played([1, 2], [0.0, 5000.0], [1.0, 1.0], 9000)
    np.testing.assert_allclose(both[:5000], played([1], [0.0], [1.0], 5000), atol=1e-6)
    np.testing.assert_allclose(both[5000:], played([2], [0.0], [1.0], 4000), atol=1e-6)


def test_pairs_are_the_same_for_the_same_seed_and_loud_enough() -> None:
    mixer = Mixer(BANK, 4, range(4, 6), rooms(3, 3))
    numbers = np.arange(40) % 4
    drawn = Drawn(numbers, np.ones(40), np.full(40, 2000.0))
    first, again, other = (mixer.pairs(drawn, 2 * RATE_HZ, seed) for seed in (7, 7, 8))
    for one, two in zip(first, again, strict=True):
        assert torch.equal(one, two)
    assert not torch.equal(first[1], other[1])
    clean, heard = first
    assert clean.shape == heard.shape == (40, 2 * RATE_HZ)
    assert torch.isfinite(heard).all()
    loudest = heard.abs().amax(1)
    assert loudest.min() > 0.02
    assert loudest.max() < 1.3
