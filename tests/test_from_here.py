"""Another hook, other hands: the rounds before stay as high as they are, and are believed so.

Source: plane geometry of rounds of two heights, added up.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.gauge.estimate import Gauge
from pattern.gauge.miscount import Miscount, around, girth, worked
from pattern.gauge.prior import prior
from pattern.gauge.stitch_change import beside_scaled, scaled, sooner, unsettled
from pattern.plan.brim import brim_total
from pattern.plan.piece import depth_at, left_in
from pattern.plan.readings import expected, reading_of
from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.shape.settings import Settings
from pattern.trade.lengths import Amount, Unit
from tests.pieces import NEXT, begun, told

ROUNDS = st.integers(0, 60)
RATIO = st.floats(0.7, 1.4)
YARNS = st.sampled_from([3, 4, 5, 6])


def learned(yarn: int, around_mm: float, across_mm: float) -> Gauge:
    """A gauge whose values hang together, as readings leave it."""
    gauge = prior(Settings(yarn=yarn))
    return gauge.learned((60.0, 0.0, 0.0), around_mm, 3.0).learned((0.0, 20.0, 2.0), across_mm, 3.0)


GAUGES = st.builds(learned, YARNS, st.floats(250, 450), st.floats(100, 200))


def hook(size: float) -> c.Change:
    return c.Change("hook_mm", Amount(size))


def measured(state: State, kind: Kind, value_mm: float) -> State:
    return told(state, c.Measured(Amount(round(value_mm), 1.0, Unit.MM), kind), c.Yes())


@given(GAUGES, RATIO, ROUNDS)
def test_the_depth_that_is_worked_stays_with_its_spread(
    gauge: Gauge, ratio: float, rounds: int
) -> None:
    worked = gauge.of((0.0, float(rounds), 1.0))
    for after in (scaled(gauge, ratio, rounds), unsettled(gauge, 0.1, rounds)):
        kept = after.of((0.0, float(rounds), 1.0))
        assert kept.mean == pytest.approx(worked.mean)
        assert kept.sd == pytest.approx(worked.sd, rel=1e-6)
    assert scaled(gauge, ratio, rounds).of((1.0, 0.0, 0.0)).sd == pytest.approx(
        ratio * gauge.of((1.0, 0.0, 0.0)).sd
    )


@given(GAUGES, RATIO, ROUNDS, st.integers(0, 20))
def test_ripped_back_past_the_change_it_is_as_if_it_came_sooner(
    gauge: Gauge, ratio: float, rounds: int, back: int
) -> None:
    """The rounds that are left are the old ones; what follows has the new height."""
    back = min(back, rounds)
    moved = sooner(scaled(gauge, ratio, rounds), ratio, back)
    direct = scaled(gauge, ratio, rounds - back)
    assert moved.mean == pytest.approx(direct.mean)
    for row, same in zip(moved.covariance, direct.covariance, strict=True):
        assert row == pytest.approx(same, abs=1e-6)


@given(GAUGES, RATIO, ROUNDS, st.integers(20, 120))
def test_a_miscount_hangs_together_with_the_new_stitch_as_with_the_old(
    gauge: Gauge, ratio: float, rounds: int, stitches: int
) -> None:
    """All stitches larger alike: the girth grows by the ratio, and so does its spread."""
    gauge, miscount = around(
        gauge,
        worked(Miscount(), stitches, 1 / 200),
        stitches,
        1.05 * stitches * gauge.width_mm,
        3.0,
    )
    assert miscount.with_gauge[0] != 0
    old = girth(gauge, miscount, stitches)
    beside = beside_scaled(miscount, ratio, rounds)
    new = girth(scaled(gauge, ratio, rounds), beside, stitches)
    assert new.mean == pytest.approx(ratio * old.mean)
    assert new.sd == pytest.approx(ratio * old.sd, rel=1e-6)
    depth = sum(r * x for r, x in zip((0.0, rounds, 1.0), beside.with_gauge, strict=True))
    kept = sum(r * x for r, x in zip((0.0, rounds, 1.0), miscount.with_gauge, strict=True))
    assert depth == pytest.approx(kept, abs=1e-9)


@pytest.mark.parametrize("size", [4.0, 6.5])
@pytest.mark.parametrize("kind", [Kind.ACROSS, Kind.DEPTH])
@pytest.mark.parametrize("off", [0.9, 1.1])
def test_a_tape_from_the_middle_tells_of_the_rounds_after_the_change(
    size: float, kind: Kind, off: float
) -> None:
    """Eight rounds of a height that is well known, then six of another hook, 10 % off what was
    believed: the tape finds these six, and what is worked before is as deep as it was.
    """
    state = told(begun(head_mm=700.0), *[NEXT] * 8)
    state = measured(state, Kind.ACROSS, 2 * depth_at(state.piece, 8).mean)
    old = depth_at(state.piece, 8).mean
    state = told(state, hook(size))
    believed = state.piece.gauge.height_mm
    state = told(state, *[NEXT] * 6)
    true_mm = off * believed
    assert state.piece.stage is Stage.CROWN
    state = measured(state, kind, (2 if kind is Kind.ACROSS else 1) * (old + 6 * true_mm))
    assert state.taken is not None
    still = abs(state.piece.gauge.height_mm - true_mm) / abs(believed - true_mm)
    assert still < (0.35 if kind is Kind.ACROSS else 0.55)
    assert depth_at(state.piece, 8).mean == pytest.approx(old, abs=1.5)
    assert depth_at(state.piece, 14).mean == pytest.approx(old + 6 * true_mm, abs=2.5)


@pytest.mark.parametrize("size", [4.0, 6.5])
def test_a_brim_keeps_what_was_worked_with_the_old_hook(size: float) -> None:
    """Rounds of two heights: four of the old one, and the rest of the width in new ones."""
    state = told(begun(brim_mm=70.0), *[NEXT] * 10)
    while state.piece.brim_rounds < 4:
        state = told(state, c.Skip(), NEXT)
    old = 4 * state.piece.gauge.height_mm
    state = told(state, hook(size))
    new = state.piece.gauge.height_mm
    assert brim_total(state.piece) == 4 + round((70.0 - old) / new)
    state = told(state, NEXT, NEXT)
    hoped = expected(state.piece, reading_of(state.piece, Kind.BRIM, 0.0, 1.0, 0.0))
    assert hoped.mean == pytest.approx(old + 2 * new)


def test_a_side_measured_by_itself_does_so_too() -> None:
    state = told(begun(shape="bowl", across_mm=120.0, height_mm=90.0), NEXT)
    while state.piece.rounds_in(1) < 5:
        state = told(state, c.Skip(), NEXT)
    old = 5 * state.piece.gauge.height_mm
    state = told(state, hook(6.5))
    left = left_in(state.piece, 1).mean
    assert left == pytest.approx((90.0 - old) / state.piece.gauge.height_mm)


@given(st.integers(1, 12))
def test_ripping_back_past_another_hook_keeps_the_old_rounds_old(back: int) -> None:
    state = told(begun(), *[NEXT] * 12)
    left = state.piece.finished - back
    old = depth_at(state.piece, left).mean
    after = told(state, hook(6.5), NEXT, NEXT, c.RippedBack(back + 2))
    assert after.piece.finished == left
    assert depth_at(after.piece, left).mean == pytest.approx(old)
    grown = depth_at(after.piece, left + 3).mean - old
    assert grown == pytest.approx(3 * after.piece.gauge.height_mm)
    again = told(after, *[NEXT] * 3)
    assert depth_at(again.piece, left).mean == pytest.approx(old)


def test_other_hands_leave_what_is_worked_as_sure_as_it_was() -> None:
    state = told(begun(), *[NEXT] * 12)
    before = depth_at(state.piece, 12)
    after = depth_at(told(state, c.OtherHands()).piece, 12)
    assert math.isclose(after.sd, before.sd, rel_tol=1e-6)
    assert after.mean == pytest.approx(before.mean)
