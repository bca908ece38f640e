"""The canceller: what is known to be playing goes, what is not stays, whatever happens to both."""

from __future__ import annotations

import tracemalloc

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline  # type: ignore[import-untyped]

from tests.known_sound import Floats, across, film, level_db, room, samples
from voice.sound.canceller import Canceller
from voice.sound.path_filter import PathSettings
from voice.sound.ports import RATE_HZ, Samples

HOP = PathSettings().hop


def last(sound: NDArray[np.generic], length_s: float = 1.0) -> NDArray[np.generic]:
    return sound[-int(length_s * RATE_HZ) :]


def run(canceller: Canceller, heard: Samples, *played: Floats, block: int = 320) -> Samples:
    """What is left of the whole sound, fed in blocks as the card gives them."""
    known = np.stack(played)
    left = [
        canceller.feed(heard[at : at + block], known[:, at : at + block])
        for at in range(0, len(heard), block)
    ]
    return np.concatenate([*left, canceller.finish()])


@settings(max_examples=3)
@given(st.integers(0, 99), st.sampled_from([0.1, 1.0, -1.0, 4.0]))
def test_a_known_path_is_found_to_30_db(seed: int, gain: float) -> None:
    played = film(9, seed, level=1500.0)
    heard = samples(gain * across(played, room(seed)))
    left = run(Canceller(), heard, played)
    assert level_db(last(left)) <= max(level_db(last(heard)) - 30, -10)


@given(st.lists(st.integers(1, 2000), max_size=8), st.integers(0, 99), st.booleans())
def test_with_nothing_playing_the_sound_comes_out_bit_for_bit(
    sizes: list[int], seed: int, stereo: bool
) -> None:
    rng = np.random.default_rng(seed)
    canceller = Canceller(1 + stereo)
    heard = [rng.integers(-32_768, 32_768, size).astype(np.int16) for size in sizes]
    left = [canceller.feed(block, np.zeros((1 + stereo, len(block)))) for block in heard]
    left.append(canceller.finish())
    whole = np.concatenate([np.zeros(0, np.int16), *heard])
    np.testing.assert_array_equal(np.concatenate(left), whole)
    assert canceller.gain_db == 0


@settings(max_examples=12)
@given(
    st.integers(0, 999),
    st.lists(st.tuples(st.sampled_from([0, 30, 3000, 30_000]), st.integers(0, 3)), max_size=8),
)
def test_it_is_never_louder_than_what_came_in_for_more_than_a_block(
    seed: int, parts: list[tuple[int, int]]
) -> None:
    rng = np.random.default_rng(seed)
    played = rng.normal(0, 4000, HOP * 6 * max(len(parts), 1))
    heard = np.zeros(len(played))
    for at, (level, path) in enumerate(parts):
        here = slice(at * 6 * HOP, (at + 1) * 6 * HOP)
        heard[here] = rng.normal(0, max(level, 1e-9), 6 * HOP)
        heard[here] += across(played, room(path))[here] * (path > 0)
    whole = samples(heard)
    left = run(Canceller(), whole, played)
    assert len(left) == len(whole)
    came, went = (np.mean(x.reshape(-1, HOP).astype(float) ** 2, 1) for x in (whole, left))
    louder = went > came * 1.001 + 1  # to a thousandth, and the rounding
    assert not np.any(louder[1:] & louder[:-1])


@settings(max_examples=10)
@given(st.lists(st.integers(1, 5000), min_size=1, max_size=12))
def test_the_sizes_of_the_blocks_do_not_matter(sizes: list[int]) -> None:
    played = film(sum(sizes) / RATE_HZ + 0.01)[: sum(sizes)]
    heard = samples(across(played, room(1)))
    at_once, canceller, left, at = run(Canceller(), heard, played), Canceller(), [], 0
    for size in sizes:
        left.append(canceller.feed(heard[at : at + size], played[np.newaxis, at : at + size]))
        at += size
    np.testing.assert_array_equal(np.concatenate([*left, canceller.finish()]), at_once)


def test_both_channels_of_a_film_go() -> None:
    talk = film(12)
    left_one, right_one = talk + film(12, 1, 1000), talk + film(12, 2, 1000)
    heard = samples(across(left_one, room(1)) + across(right_one, room(2, 230)))
    left = run(Canceller(2), heard, left_one, right_one)
    assert level_db(last(left)) <= level_db(last(heard)) - 15


def test_somebody_who_speaks_over_it_stays_and_spoils_nothing() -> None:
    played, said = film(16), np.zeros(16 * RATE_HZ)
    for at_s in (5, 8, 11, 14):
        said[at_s * RATE_HZ : (at_s + 1) * RATE_HZ] = film(1, at_s)
    echo = across(played, room(1))
    left = run(Canceller(), samples(echo + said), played).astype(np.float64)
    remainder = left - said
    assert level_db(last(remainder, 6)) <= level_db(last(echo, 6)) - 15
    assert level_db(left[14 * RATE_HZ : 15 * RATE_HZ]) == pytest.approx(
        level_db(said[14 * RATE_HZ : 15 * RATE_HZ]), abs=1
    )


@pytest.mark.parametrize("other", [room(2, 420), np.concatenate([room(1)[:170], room(2)[170:]])])
def test_a_moved_microphone_is_learnt_anew_within_5_seconds(other: Floats) -> None:
    played = film(16)
    heard = np.concatenate(
        [across(played, room(1))[: 10 * RATE_HZ], across(played, other)[10 * RATE_HZ :]]
    )
    left = run(Canceller(), samples(heard), played)
    assert level_db(left[9 * RATE_HZ : 10 * RATE_HZ]) <= level_db(last(heard)) - 25
    assert level_db(last(left)) <= level_db(last(heard)) - 15


def test_what_is_learnt_is_kept_while_nothing_plays() -> None:
    played = np.concatenate([film(8), np.zeros(20 * RATE_HZ), film(1, 3)])
    echo = across(played, room(1))
    hiss = np.random.default_rng(1).normal(0, 30, len(echo))
    left = run(Canceller(), samples(echo + hiss), played) - hiss
    assert level_db(last(left)) <= level_db(last(echo)) - 20


def test_exact_silence_stays_exact_silence() -> None:
    canceller = Canceller()
    run(canceller, samples(across(film(4), room(1))), film(4))
    silent = canceller.feed(np.zeros(2 * RATE_HZ, np.int16), np.zeros((1, 2 * RATE_HZ)))
    assert not silent[RATE_HZ:].any()


def test_a_clipping_microphone_spoils_nothing() -> None:
    played = film(12)
    heard = across(played, room(1))
    heard[6 * RATE_HZ : 8 * RATE_HZ] *= 40
    heard[6 * RATE_HZ : 8 * RATE_HZ] += 20_000
    left = run(Canceller(), samples(heard), played)
    after = slice(9 * RATE_HZ, 10 * RATE_HZ)
    assert level_db(left[after]) <= level_db(heard[after]) - 25


def test_where_nothing_more_comes_of_what_is_played_the_microphone_goes_on() -> None:
    played, canceller = film(6), Canceller()
    heard = samples(across(played, room(1)))
    first = canceller.feed(heard, played[np.newaxis])
    alone = np.random.default_rng(3).integers(-900, 900, 4 * RATE_HZ).astype(np.int16)
    later = [canceller.feed(block, np.zeros((1, 0))) for block in alone.reshape(-1, 320)]
    whole = np.concatenate([first, *later, canceller.finish()])
    np.testing.assert_array_equal(last(whole, 2), last(alone, 2))
    assert len(whole) == len(heard) + len(alone)
    assert len(first) + sum(map(len, later)) >= len(whole) - 0.15 * RATE_HZ


@pytest.mark.parametrize("late_ms", [0, 500])
def test_a_delay_up_to_half_a_second_is_found(late_ms: int) -> None:
    played = film(12)
    heard = samples(across(played, room(1, late_ms * RATE_HZ // 1000)))
    left = run(Canceller(), heard, played)
    assert level_db(last(left)) <= level_db(last(heard)) - 25


@pytest.mark.parametrize("millionths", [-200, 50])
def test_two_clocks_that_drift_apart_are_brought_together(millionths: int) -> None:
    """A cubic spline, of scipy, plays the part of the other clock."""
    played = film(24)
    heard = samples(across(played, room(1)))
    places = np.arange(len(played)) * (1 + millionths * 1e-6)
    places = np.minimum(places, len(played) - 1)
    other = CubicSpline(np.arange(len(played)), played)(places)
    canceller = Canceller()
    left = run(canceller, heard, other)
    assert canceller.drift_millionths == pytest.approx(-millionths, abs=1.5)
    assert level_db(last(left)) <= level_db(last(heard)) - 18


def test_clocks_that_are_one_are_taken_for_one() -> None:
    played = film(16)
    canceller = Canceller()
    run(canceller, samples(across(played, room(1)) + 2 * film(16, 9)), played)
    assert canceller.drift_millionths == 0


@pytest.mark.parametrize("lost", [320, 4000, -4000])
def test_lost_blocks_are_found_and_closed(lost: int) -> None:
    """What is lost of the played sound, or of the microphone's where the number is below zero."""
    played, canceller = film(16)[np.newaxis], Canceller()
    heard = samples(across(played[0], room(1)))
    at = 8 * RATE_HZ
    left = [canceller.feed(heard[:at], played[:, :at])]
    canceller.feed(heard[at : at + max(lost, 0)], played[:, at : at + max(-lost, 0)])
    at += abs(lost)
    for place in range(at, len(heard), 320):
        here = slice(place, place + 320)
        left.append(canceller.feed(heard[here], played[:, here]))
    assert level_db(last(np.concatenate(left))) <= level_db(last(heard)) - 15


def test_where_the_sound_comes_by_two_ways_a_voice_over_it_makes_it_no_movement() -> None:
    """Now the left loudspeaker is the louder one, now the right, which is heard a little later."""
    turn = np.arange(20 * RATE_HZ) < 12 * RATE_HZ
    left, right = film(20) * np.where(turn, 1.0, 0.8), film(20, 1) * np.where(turn, 0.8, 1.0)
    echo = across(left, room(1)) + across(right, room(2, 220))
    said = np.zeros(len(echo))
    said[12 * RATE_HZ : 16 * RATE_HZ] = film(4, 2, 12_000.0)
    left = run(Canceller(2), samples(echo + said), left, right).astype(np.float64)
    for begin_s in (13, 15, 17, 19):
        there = slice(begin_s * RATE_HZ, (begin_s + 1) * RATE_HZ)
        assert level_db(left[there] - said[there]) <= level_db(echo[there]) - 8


def test_an_overdriven_loudspeaker_leaves_little() -> None:
    """Bent by a hyperbolic tangent, which is more than a cube."""
    played = film(16)
    heard = samples(across(np.tanh(played / 6000) * 6000, room(1)))
    left = run(Canceller(), heard, played)
    assert level_db(last(left, 3)) <= level_db(last(heard, 3)) - 18


def test_it_needs_less_than_20_mb_however_long_it_runs() -> None:
    tracemalloc.start()
    canceller, played = Canceller(2), film(6)
    heard = samples(across(played, room(1)))
    for _ in range(3):
        run(canceller, heard, played, played)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert most - heard.nbytes - 3 * played.nbytes < 20e6
