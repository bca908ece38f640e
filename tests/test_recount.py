"""Counts that come after a reading: an older slip makes the width wrong, and not the girth."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern import commands as c
from pattern.commands import Kind, Look
from pattern.gauge import prior
from pattern.lengths import Amount, Unit
from pattern.piece import Piece
from pattern.recount import Uncounted, counted
from pattern.rounds import Stage
from pattern.settings import Settings
from pattern.state import State
from tests.hats import at, begun, said, until

ON_SIDES = Piece(Settings(), prior(Settings()), Stage.SIDES, 20, 90, (15, 5))


@given(st.integers(-4, 4), st.integers(0, 500), st.integers(0, 500))
def test_a_slip_as_old_as_it_is_likely(slip: int, before: int, after: int) -> None:
    """The girth that was read is that of the stitches that are thought to have been there."""
    found = counted(ON_SIDES, 90 + slip, Uncounted(before, after, 90, on_sides=True))
    there = 90 + slip * before / max(before + after, 1)
    assert found.stitches == 90 + slip
    assert found.slip == slip
    assert found.gauge.width_mm * there == pytest.approx(ON_SIDES.gauge.width_mm * 90)


@given(st.integers(-4, 4))
def test_without_a_reading_the_width_stays(slip: int) -> None:
    found = counted(ON_SIDES, 90 + slip, None)
    assert found.gauge == ON_SIDES.gauge
    assert found.sides_known == ON_SIDES.sides_known


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
    slipped = said(crown, c.Counted(crown.piece.stitches - 1), c.StartSides())
    assert slipped.offered is not None
    assert slipped.offered.stage is Stage.SIDES
    assert slipped.offered.after == slipped.piece.stitches


def test_a_count_in_the_crown_closes_nothing() -> None:
    state = at(Stage.SIDES)
    assert said(state, c.Counted(state.piece.stitches)).piece.gauge == state.piece.gauge
