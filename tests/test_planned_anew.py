"""What is planned anew on the sides: another head, another hook, and where the edge ends."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.plan.piece import depth_at, girth_of
from pattern.plan.sides import FITS_MM
from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.fits import Fit
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from tests.pieces import NEXT, begun, told

SIDES = 15
"""Rounds after which the sides are in work, of the piece that `begun` begins."""


def on_the_sides(rounds: int = SIDES) -> State:
    """A hat whose sides are in work, without a reading."""
    state = told(begun(), *[NEXT] * rounds)
    assert state.stage is Stage.SIDES
    return state


@given(st.integers(-45, 45))
def test_for_another_head_the_sides_come_to_fit(more_mm: int) -> None:
    """However far off they are, at most one stitch in ten a round, and then no more."""
    state = on_the_sides()
    head = state.settings.head + more_mm
    state = told(state, c.Change("head_mm", Amount(head, 1.0, Unit.MM)))
    before = state.piece.stitches
    for _ in range(3):
        if state.stage is Stage.SIDES:
            state = told(state, NEXT)
            assert abs(state.piece.stitches - before) <= max(before // 10, 1)
            before = state.piece.stitches
    off = abs(girth_of(state.piece, state.piece.stitches).mean - state.settings.girth_mm)
    assert off <= 1.5 * FITS_MM


def test_without_a_change_nothing_is_corrected_unmeasured() -> None:
    state = on_the_sides()
    stitches = state.piece.stitches
    for _ in range(4):
        state = told(state, NEXT)
    assert state.piece.stitches == stitches


@given(st.integers(0, 7))
def test_what_ends_too_high_never_makes_it_shallower(further: int) -> None:
    state = on_the_sides(SIDES + further)
    wanted = state.settings.depth
    if state.stage is Stage.SIDES:
        after = told(state, c.TriedOn(Fit.SHORT, None))
        assert after.settings.depth >= wanted - 1e-6


@given(st.integers(0, 7))
def test_what_ends_too_low_never_makes_it_deeper(further: int) -> None:
    state = on_the_sides(SIDES + further)
    after = told(state, c.TriedOn(Fit.BELOW, None))
    assert after.settings.depth <= state.settings.depth + 1e-6


@pytest.mark.parametrize("fit", [Fit.OVER_EARS, Fit.AT_BROW, Fit.BELOW])
def test_a_word_that_ends_the_sides_far_too_soon_is_asked_about(fit: Fit) -> None:
    state = on_the_sides()
    assert depth_at(state.piece, state.piece.finished).mean < 0.7 * state.settings.depth
    asked = told(state, c.TriedOn(fit, None))
    assert asked.stage is Stage.SIDES
    ended = asked.offered is None or asked.offered.part != asked.piece.index
    assert not ended or asked.doubt is not None


def test_a_word_at_the_right_depth_ends_them_at_once() -> None:
    state = on_the_sides()
    while depth_at(state.piece, state.piece.finished).mean < 0.93 * state.settings.depth:
        state = told(state, NEXT)
    after = told(state, c.TriedOn(Fit.OVER_EARS, None))
    assert after.doubt is None
