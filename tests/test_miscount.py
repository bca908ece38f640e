"""Counts that come after a reading: an older slip makes the width wrong, and not the girth."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.gauge.estimate import Gauge
from pattern.gauge.miscount import SHOWS, SLIPS, Miscount, around, came_out, counted, girth, worked
from pattern.session import commands as c
from pattern.session.commands import Kind, Look
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from tests.hats import at, begun, said, until

WIDTHS, SPREADS = st.floats(3, 12), st.floats(0.005, 0.15)
STITCHES, COUNTS = st.integers(40, 140), st.integers(-4, 4)


def of_width(width: float, spread: float) -> Gauge:
    """A gauge whose width alone is unsure."""
    return Gauge((width, width, 2.0), (((spread * width) ** 2, 0.0, 0.0), (0.0,) * 3, (0.0,) * 3))


@given(WIDTHS, SPREADS, STITCHES, st.floats(0.1, 4), st.floats(-3, 3))
def test_a_reading_is_shared_as_least_squares_share_it(
    width: float, spread: float, stitches: int, variance: float, off: float
) -> None:
    """Width and miscount that together are likeliest. Source: numpy.linalg.lstsq, with each belief
    and the reading as a row over its standard deviation.
    """
    gauge, missed, noise = of_width(width, spread), Miscount(variance=variance), 2.5
    value = stitches * width + off * math.hypot(noise, stitches * width * spread)
    after, told = around(gauge, missed, stitches, value, noise)
    rows = np.array(
        [[1 / (spread * width), 0], [0, variance**-0.5], [stitches / noise, width / noise]]
    )
    sought = np.array([1 / spread, 0, value / noise])
    best = np.linalg.lstsq(rows, sought, rcond=None)[0]
    assert (after.width_mm, told.mean) == pytest.approx(tuple(best), abs=1e-6)
    left = np.linalg.inv(rows.T @ rows)
    assert told.variance == pytest.approx(left[1, 1], rel=1e-6)
    assert told.with_gauge[0] == pytest.approx(left[0, 1], rel=1e-6)


@given(WIDTHS, STITCHES, COUNTS, st.floats(0.1, 2), st.floats(0, 2))
def test_a_slip_is_as_old_as_it_is_likely(
    width: float, stitches: int, over: int, older: float, newer: float
) -> None:
    """What a tape without error read, of a width not known before, stays the girth of the stitches
    that were there: of a slip, the share that was worked before the reading.
    """
    read = around(of_width(width, 10.0), Miscount(variance=older), stitches, stitches * width, 1e-6)
    gauge, missed = read
    found = counted(gauge, replace(missed, variance=missed.variance + newer), over)
    there = over * older / (older + newer)
    assert found.width_mm == pytest.approx(width * (1 - there / stitches), rel=1e-3)


@given(WIDTHS, SPREADS, COUNTS)
def test_without_a_reading_a_count_says_nothing_of_the_width(
    width: float, spread: float, over: int
) -> None:
    gauge = of_width(width, spread)
    assert counted(gauge, Miscount(), over) == gauge
    assert counted(gauge, worked(Miscount(), 90, SLIPS), over).mean == gauge.mean


@given(WIDTHS, SPREADS, STITCHES, st.integers(1, 30))
def test_girth_is_less_sure_with_each_round_that_is_not_counted(
    width: float, spread: float, stitches: int, rounds: int
) -> None:
    """Slips are independent, so their variances add up, as those of a Poisson count do."""
    gauge, missed = of_width(width, spread), Miscount()
    for _ in range(rounds):
        missed = worked(missed, stitches, SLIPS)
    slips = rounds * stitches * SLIPS
    sure, unsure = girth(gauge, Miscount(), stitches), girth(gauge, missed, stitches)
    assert unsure.mean == sure.mean == pytest.approx(stitches * width)
    assert unsure.sd**2 - sure.sd**2 == pytest.approx(slips * width**2, rel=1e-6)
    shown = came_out(gauge, missed)[1]
    assert shown.variance == pytest.approx(missed.variance * (1 - SHOWS))


def sides_read() -> State:
    """Sides that fit, by the tape."""
    state = until(lambda now: now.piece.side_rounds == 2, begun(depth_mm=200.0))
    girth = Amount(round(state.settings.girth_mm), 1.0, Unit.MM)
    read = said(state, c.Measured(girth, Kind.AROUND))
    return read if read.doubt is None else said(read, c.Yes())


@pytest.mark.parametrize("off", [-2, 2])
def test_what_fits_by_tape_is_not_mended_for_a_count(off: int) -> None:
    """The tape showed the head's girth; the slip was there, so taking it out would misfit."""
    read = sides_read()
    told = said(read, c.Counted(read.piece.stitches + off))
    if told.doubt is not None:
        told = said(told, c.Yes())
    assert told.offered is not None
    assert abs(told.offered.after - told.piece.stitches) <= 1


@given(st.integers(-2, 2))
def test_a_count_leaves_the_reading_wanted(slip: int) -> None:
    state = until(lambda now: now.want is not None and now.want.kind is not Kind.LOOK, begun())
    assert said(state, c.Counted(state.piece.stitches + slip)).want == state.want


def test_a_look_leaves_the_reading_wanted() -> None:
    state = until(lambda now: now.want is not None and now.want.kind is not Kind.LOOK, begun())
    assert said(state, c.Lies(Look.FLAT)).want == state.want
    asked = until(lambda now: now.want is not None, begun())
    if asked.want is not None and asked.want.kind is Kind.LOOK:
        assert said(asked, c.Lies(Look.FLAT)).want is None


def test_sides_begun_early_keep_the_stitches_there_are() -> None:
    """An old slip of the crown is not mended where the maker wants no more increases."""
    crown = until(lambda now: now.piece.finished == 4, begun())
    asked = said(crown, c.Counted(crown.piece.stitches - 1), c.StartSides())
    assert asked.doubt is not None  # so few rounds are much too narrow
    slipped = said(asked, c.Yes())
    assert slipped.offered is not None
    assert slipped.offered.stage is Stage.SIDES
    assert slipped.offered.after == slipped.piece.stitches


def test_a_count_in_the_crown_closes_nothing() -> None:
    state = at(Stage.SIDES)
    assert said(state, c.Counted(state.piece.stitches)).piece.gauge == state.piece.gauge
