"""What makes plans quick gives what the slower way gave."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.forecast import yarn_left
from pattern.forecast.rest_of_piece import rounds_ahead
from pattern.gauge.kalman import updated
from pattern.gauge.miscount import SHOWS, Miscount, came_out
from pattern.gauge.prior import prior
from pattern.session import events as e
from pattern.session.decide_yarn import use_of
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.shape.repeats import _again
from pattern.shape.rounds import Round
from pattern.shape.settings import Settings
from tests.any_call import begun
from tests.properties import examples

RANDOM = st.randoms(use_true_random=False) | st.integers(0, 2**32).map(Random)


@settings(max_examples=examples(30))
@given(RANDOM, st.floats(0.3, 1.0))
def test_what_would_last_is_found_in_few_plans(rng: Random, share: float) -> None:
    """The least change of each kind that is enough; each trial is a plan, and those of a fine hat
    are hundreds of rounds long.
    """
    state = begun(
        {
            "head_mm": rng.choice((420.0, 720.0)),
            "yarn": rng.choice((0, 4, 7)),
            "shape": rng.choice(("brimmed hat", "bucket hat", "close cap")),
            "fullness": rng.choice((1.0, 2.0)),
            "brim_mm": rng.choice((20.0, 250.0)),
            "depth_mm": rng.choice((200.0, 450.0)),
        }
    )
    use, plans = use_of(state), 0
    grams = yarn_left.left(state, use).grams.mean * share

    def counting(of: State) -> tuple[Round, ...]:
        nonlocal plans
        plans += 1
        return rounds_ahead(of)

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(yarn_left, "rounds_ahead", counting)
        found = yarn_left.enough(state, use, grams)
    assert plans <= 16
    for fit in found.fits:
        more = (e.QuestionAnswered(fit.key, fit.value_mm + state.piece.gauge.height_mm),)
        larger = yarn_left.left(fold(state, more), use).grams
        assert fit.need.grams.mean + yarn_left.SAFE * fit.need.grams.sd <= grams
        assert larger.mean + yarn_left.SAFE * larger.sd > grams


def test_a_brim_that_its_shape_makes_as_wide_as_it_is_cannot_be_narrower() -> None:
    """It used to end the program: a width of three hundred millimetres is no answer."""
    brim = '[[part]]\nkind = "disc"\ngirth = 1\n[[part]]\nkind = "brim"\nlength = "320 mm"\n'
    state = begun({"shape": f'name = "sun plate"\n{brim}slope = 10\n'})
    use = use_of(state)
    found = yarn_left.enough(state, use, 0.97 * yarn_left.left(state, use).grams.mean)
    assert not found.enough
    assert not found.fits


@given(st.lists(st.integers(0, 2), min_size=1, max_size=40))
def test_where_gaps_come_again_is_found_as_by_comparing(gaps: list[int]) -> None:
    for at, length in list(enumerate(_again(gaps)))[1:]:
        assert gaps[:length] == gaps[at : at + length]
        assert at + length == len(gaps) or gaps[length] != gaps[at + length]


@given(st.floats(-3, 3), st.floats(0.01, 9), st.lists(st.floats(-0.3, 0.3), min_size=3, max_size=3))
def test_a_round_that_came_out_is_a_reading_of_no_miscount(
    mean: float, variance: float, shares: list[float]
) -> None:
    """Against the filter of any reading (Kalman 1960), of the miscount alone, as 0."""
    gauge = prior(Settings())
    sds = [gauge.covariance[i][i] ** 0.5 for i in range(3)]
    width, height, ring = (share * sd for share, sd in zip(shares, sds, strict=True))
    beside = (width * variance**0.5, height * variance**0.5, ring * variance**0.5)
    found, after = came_out(gauge, Miscount(mean, variance, beside))
    joint = (
        *((*line, c) for line, c in zip(gauge.covariance, beside, strict=True)),
        (*beside, variance),
    )
    noise = (variance * (1 - SHOWS) / SHOWS) ** 0.5
    gain, covariance = updated(joint, (0.0, 0.0, 0.0, 1.0), noise)
    means = [m - g * mean for m, g in zip((*gauge.mean, mean), gain, strict=True)]
    assert [*found.mean[:2], after.mean] == pytest.approx([*means[:2], means[3]])
    rows = [
        *(value for line in found.covariance for value in line),
        after.variance,
        *after.with_gauge,
    ]
    wanted = [
        *(value for line in covariance[:3] for value in line[:3]),
        covariance[3][3],
        *covariance[3][:3],
    ]
    assert rows == pytest.approx(wanted, abs=1e-12)
