"""Yarn: area against stitches, weighing against conditioning of a normal law, and what fits."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.forecast.rest_of_piece import planned_end, rounds_ahead, rounds_made
from pattern.forecast.yarn_left import SAFE, enough, left
from pattern.forecast.yarn_savings import Saving
from pattern.gauge.estimate import Gauge
from pattern.gauge.yarn_use import WEIGHED_G, YARN_PER_AREA, Use, learned, usual_use
from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.rounds import Stage
from tests.areas import whole_piece
from tests.pieces import NEXT, Story, begun, stories, told
from tests.properties import examples


def use_of(state: State, metres: float | None = None, grams: float | None = None) -> Use:
    return usual_use(state.settings, state.piece.gauge, metres, grams)


def known(state: State) -> Gauge:
    return Gauge(state.piece.gauge.mean, ((0.0,) * 3,) * 3)


def test_a_hat_of_class_4_on_5_mm_needs_its_area_times_the_data_set() -> None:
    """Radius 9.1, sides 10, brim 6 cm at 30 degrees: 260.2 + 571.8 + 441.0 cm2 (worked out), at
    12.4 cm of yarn a cm2 (common practice, one data set): 157.9 m.
    """
    state = begun(head_mm=2 * math.pi * 91, depth_mm=191.0, brim_mm=60.0, slope_deg=30.0)
    need = whole_piece(state.settings, state.piece.gauge)
    assert need.metres.mean == pytest.approx((260.2 + 571.8 + 441.0) * 0.124, rel=1e-3)
    assert need.grams.mean == pytest.approx(need.metres.mean / 1.6, rel=1e-9)
    assert 0.15 * need.metres.mean < need.metres.sd < 0.3 * need.metres.mean


@pytest.mark.parametrize("yarn", [2, 3, 4, 5])
@pytest.mark.parametrize("stitch", ["single", "half double", "double"])
def test_area_and_counted_stitches_agree(yarn: int, stitch: str) -> None:
    """Two ways to one number: the shape's area, and every planned stitch with its own area."""
    state = begun(yarn=yarn, stitch=stitch, hook_mm=4.0)
    by_area = whole_piece(state.settings, state.piece.gauge).metres.mean
    assert left(state).metres.mean == pytest.approx(by_area, rel=0.12)


def test_finer_yarn_needs_more_metres_and_taller_rounds_fewer() -> None:
    """A given area holds more of a thinner yarn: the length an area holds goes as 1 / height."""
    state = begun()
    fine = begun(yarn=2, hook_mm=3.5)
    coarse = whole_piece(state.settings, state.piece.gauge).metres.mean
    ratio = state.piece.gauge.height_mm / fine.piece.gauge.height_mm
    need = whole_piece(fine.settings, fine.piece.gauge).metres.mean
    assert need == pytest.approx(coarse * ratio, rel=1e-9)


def test_one_stitch_is_its_area_of_yarn() -> None:
    state = begun()
    gauge = state.piece.gauge
    stitch_mm = YARN_PER_AREA * gauge.width_mm * gauge.height_mm
    assert use_of(state).metres == pytest.approx(stitch_mm / 1000)


def test_the_band_beats_the_class() -> None:
    state = begun()
    banded = use_of(state, 85.0, 50.0)
    assert banded.grams == pytest.approx(banded.metres * 50 / 85)
    assert banded.grams_spread < use_of(state).grams_spread
    need = banded.for_stitches(2000)
    assert need.balls is not None
    assert need.balls.mean == pytest.approx(need.grams.mean / 50)
    metres_only = use_of(state, 85.0).for_stitches(2000)
    assert metres_only.balls is not None
    assert metres_only.balls.mean == pytest.approx(metres_only.metres.mean / 85)
    assert use_of(state).for_stitches(2000).balls is None


@given(st.floats(2, 120), st.integers(50, 4000))
def test_weighing_is_conditioning_of_a_normal_law(grams: float, stitches: int) -> None:
    """Against the textbook formula for a normal law in two variables, by numpy."""
    use = use_of(begun())
    after = learned(use, grams, stitches)
    law = np.array([[use.metres_spread**2, use.together], [use.together, use.grams_spread**2]])
    noise = (WEIGHED_G / grams) ** 2 + 0.03**2
    gain = law[:, 1] / (law[1, 1] + noise)
    expected = law - np.outer(gain, law[1])
    found = [[after.metres_spread**2, after.together], [after.together, after.grams_spread**2]]
    assert np.allclose(found, expected)
    surprise = math.log(grams / stitches / use.grams)
    assert math.log(after.grams / use.grams) == pytest.approx(gain[1] * surprise)
    assert math.log(after.metres / use.metres) == pytest.approx(gain[0] * surprise)
    assert after.grams_spread < use.grams_spread
    assert after.metres_spread < use.metres_spread


@given(st.floats(0.5, 2.0))
def test_weighing_finds_the_makers_own_use(factor: float) -> None:
    """A maker who uses `factor` of the usual is known within 5 % after 40 g."""
    use = use_of(begun())
    true = factor * use.grams
    after = learned(use, 40.0, round(40 / true))
    assert after.grams == pytest.approx(true, rel=0.05)
    assert after.grams_spread < 0.04
    again = learned(after, 40.0, round(40 / true))
    assert again.grams_spread < after.grams_spread


@pytest.mark.parametrize(("grams", "stitches"), [(0.0, 10), (-1.0, 10), (5.0, 0)])
def test_nothing_is_learned_from_nothing(grams: float, stitches: int) -> None:
    with pytest.raises(ValueError, match="stitches"):
        learned(use_of(begun()), grams, stitches)


def test_enough_is_said_with_a_reserve_and_otherwise_what_fits() -> None:
    state = begun(brim_mm=60.0)
    use = learned(use_of(state), 20.0, 450)
    need = left(state, use).grams
    plenty = need.mean + SAFE * need.sd
    assert enough(state, use, grams=plenty + 0.1).enough
    assert not enough(state, use, grams=plenty - 0.1).enough
    short = enough(state, use, grams=0.97 * plenty)
    assert [fit.saving for fit in short.fits] == list(Saving)
    for fit in short.fits:
        assert fit.need.grams.mean + SAFE * fit.need.grams.sd <= 0.97 * plenty
    assert short.fits[0].value_mm < 60
    assert short.fits[1].value_mm < state.settings.depth
    assert not enough(state, use, grams=5.0).fits


@settings(max_examples=examples(40))
@given(stories(), st.floats(1, 150))
def test_a_saving_kept_to_is_enough(story: Story, grams: float) -> None:
    """What is proposed, once done as a change of the settings, does last."""
    state = story.state
    use = replace(learned(use_of(state), 30.0, 600), ball_grams=50.0)
    lasting = enough(state, use, grams=grams)
    assert not (lasting.enough and lasting.fits)
    savings = [fit.saving for fit in lasting.fits]
    assert savings == [one for one in Saving if one in savings]
    for fit in lasting.fits:
        resumed = told(state, c.Resume())
        amount = c.Choose(fit.key, fit.value_mm)
        assert enough(told(resumed, amount), use, grams=grams).enough


def test_sets_worked_and_rounds_done_need_no_more_yarn() -> None:
    state = told(begun(), *[NEXT] * 6)
    use = use_of(state)
    part = told(state, c.Sets(3))
    done = told(state, NEXT)
    assert left(done, use).metres.mean < left(part, use).metres.mean < left(state, use).metres.mean
    end = planned_end(state)
    assert end.stage is Stage.FINISHING
    assert left(end, use).metres.mean == 0
    assert rounds_made(end)[6:] == rounds_ahead(state)
