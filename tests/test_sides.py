"""The band at the head: what is made up for in it, and when it gets one more round."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.gauge.estimate import LOOSENED
from pattern.plan.part_ends import loosens, target
from pattern.plan.piece import Piece, depth_at, girth_of, left_in
from pattern.plan.readings import Want
from pattern.plan.sides import (
    BAND_MISFITS_MM,
    BAND_OFF_MM,
    CORRECT_AT_MOST,
    FIT_STEPS,
    FITS_MM,
    PAST_MM,
    REWORK_AT_MOST,
    TOO_DEEP,
    WORTH_MM,
    band_rounds,
    correction,
    sides_over,
    to_rework,
)
from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.session.decisions import decide
from pattern.session.events import RoundsTakenBack
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.shape.settings import Settings
from pattern.trade.lengths import Amount, Unit
from tests.hats import at, begun, exactly, said, until
from voice.sentences.due import now
from voice.sentences.reply import reply

WIDTHS, OVER = st.floats(5, 10), st.integers(-8, 8)
ROUNDS = 3


def deep(width: float, left: float, band: tuple[int, ...]) -> Piece:
    """Sides of a hat of 55 cm, so many rounds short of their depth, measured at their edge."""
    height = 20.0 / ROUNDS
    settings = Settings(head_mm=550.0, depth_mm=200.0)
    finished = 26
    gauge = exactly(width, height, 200.0 - (finished + left) * height)
    return Piece(
        settings,
        gauge,
        Stage.SIDES,
        finished,
        band[-1],
        (14, 12),
        (band[0],),
        sides_known=True,
        band=band,
    )


@given(WIDTHS, OVER)
def test_what_is_left_of_the_band_makes_up_for_its_beginning(width: float, over: int) -> None:
    """Two rounds of three are worked and off alike: the third goes past the girth the other way, by
    PAST_MM at the most, and to what is worth a correction.
    """
    fits = 550.0 / width
    stitches = round(fits) + over
    piece = deep(width, 1.0, (stitches,) * 3)
    most = stitches // CORRECT_AT_MOST
    half = max(FIT_STEPS * width, WORTH_MM) + 1e-6
    girth, capped = (stitches + correction(piece)) * width, abs(correction(piece)) == most
    other_way = (girth - 550.0) * (-1 if stitches > fits else 1)
    assert -half <= other_way <= PAST_MM + half or (capped and other_way < 0)
    if abs(stitches * width - 550.0) <= most * width:
        assert -half <= other_way <= PAST_MM + half


@given(WIDTHS, OVER, st.floats(-2, 0.4))
def test_a_band_that_is_off_gets_one_more_round(width: float, over: int, left: float) -> None:
    """Where its edge fits already, so that a round more betters it, and it is not far too deep."""
    fits = round(550.0 / width)
    piece = deep(width, left, (fits + over, fits + over, fits))
    mean_off = (2 * (fits + over) + fits) / 3 * width - 550.0
    edge_off = abs(fits * width - 550.0)
    more = abs(mean_off) > max(BAND_MISFITS_MM, edge_off) and left_in(piece, 1).mean > -TOO_DEEP
    assert sides_over(piece, 1) is not more
    assert sides_over(replace(piece, band=(fits,) * 3), 1)


@given(st.integers(1, 3))
def test_looser_sides_are_taken_back_with_their_round(rounds: int) -> None:
    """A dome that short sides follow ends narrower; ripping them out leaves the dome as it was."""
    state = until(lambda now: now.piece.side_rounds == 1, begun(shape="close cap", depth_mm=160.0))
    dome = state.made.before if state.made is not None else state.piece
    assert loosens(dome, 0)
    plain = round(dome.stretches[0].end_girth_mm / dome.gauge.width_mm)
    assert abs(target(dome, 0) * (1 + LOOSENED) - plain) <= 1
    assert state.piece.gauge.width_mm > dome.gauge.width_mm
    ripped = said(state, c.RippedBack(rounds))
    for ours, before in zip(ripped.piece.gauge.mean, dome.gauge.mean, strict=True):
        assert abs(ours - before) < 1e-9


@given(WIDTHS, OVER, st.floats(-3, 4), st.booleans())
def test_rounds_are_worked_anew_where_those_to_come_cannot_make_up_for_them(
    width: float, over: int, left: float, known: bool
) -> None:
    """Only where the tape knows the girth, and only as many as it takes."""
    stitches = round(550.0 / width) + over
    piece = replace(deep(width, left, (stitches,) * 3), sides_known=known)
    rounds, off = to_rework(piece), abs(stitches * width - 550.0)
    to_come = round(left_in(piece, 1).mean)
    if not known or to_come >= ROUNDS or off <= BAND_MISFITS_MM:
        assert rounds == 0
    corrects = off <= stitches // CORRECT_AT_MOST * width
    if known and to_come <= 0 and off > FITS_MM and to_come + REWORK_AT_MOST > 0 and corrects:
        assert rounds + to_come > 0, "what is ripped out is worked again"
    assert rounds == 0 or off <= (stitches // CORRECT_AT_MOST + FIT_STEPS) * width + 1e-6
    assert rounds <= REWORK_AT_MOST
    stays = max(ROUNDS - rounds - max(to_come, -rounds), 0)
    if 1 < rounds < REWORK_AT_MOST and rounds + to_come > 1:
        one_fewer = (stays + 1) * off - (rounds + to_come - 1) * PAST_MM
        assert one_fewer > ROUNDS * BAND_OFF_MM - 1e-6


ENDS = st.sampled_from(["brimmed hat", "close cap", "beret"])


def ended(shape: str, yarn: int, **answers: float) -> State:
    """Sides that are deep enough, the last round just worked, counted as called."""
    state = at(Stage.SIDES, begun(shape=shape, yarn=yarn, hook_mm=5.5, head_mm=550.0, **answers))
    return until(lambda now: now.stage is not Stage.SIDES, state)


@given(ENDS, st.sampled_from([3, 4, 5]), st.integers(-30, 30))
def test_a_misfit_found_at_the_end_is_mended_with_no_more_depth_than_a_round(
    shape: str, yarn: int, off_mm: int
) -> None:
    """Whoever measures the last round, rips what is said, counts, and works it again, has a band
    that fits in the mean; and it is said. A reading far off tells of the height, too, and so of
    the rounds that are left.
    """
    state = ended(shape, yarn)
    rounds = state.piece.side_rounds
    reading = c.Measured(Amount(round(550.0 + off_mm), 1.0, Unit.MM), Kind.AROUND)
    turn = decide(state, reading)
    after = fold(state, turn)
    if after.doubt is not None:
        state, turn = after, decide(after, c.Yes())
        after = fold(state, turn)
    ripped = [event.rounds for event in turn if isinstance(event, RoundsTakenBack)]
    words = reply(state, c.Yes() if state.doubt else reading, turn, after)
    assert ("ip out the last" in words) is bool(ripped)
    assert after.piece.side_rounds == rounds - sum(ripped)
    if ripped:
        assert after.stage is Stage.SIDES
        after = said(after, c.Counted(after.piece.stitches))
    done = until(lambda now: now.stage is not Stage.SIDES, after)
    piece = done.piece
    assert abs(left_in(piece, piece.index).mean) <= 1.5
    band = piece.band[-math.ceil(band_rounds(piece)) :]
    mean = sum(girth_of(piece, stitches).mean for stitches in band) / len(band) - 550.0
    assert abs(mean) <= FITS_MM


@pytest.mark.parametrize("shape", ["brimmed hat", "close cap", "beret"])
def test_whoever_wants_no_ripping_is_told_how_to_leave_it(shape: str) -> None:
    state = ended(shape, 4)
    reading = c.Measured(Amount(530.0, 1.0, Unit.MM), Kind.AROUND)
    for command in (reading, c.Yes()):
        turn = decide(state, command)
        after = fold(state, turn)
        if after.doubt is None:
            break
        state = after
    words = reply(state, command, turn, after)
    assert any(isinstance(event, RoundsTakenBack) for event in turn)
    assert "say undo, then next" in words
    left = said(after, c.Undo())
    if left.doubt is not None:  # what was doubted is in doubt again
        left = said(left, c.Undo())
    going_on = decide(left, c.Next())
    assert not any(isinstance(event, RoundsTakenBack) for event in going_on)
    assert fold(left, going_on).piece.finished >= state.piece.finished


@pytest.mark.parametrize("command", [c.Skip(), c.Next()])
def test_the_last_reading_may_be_left_out(command: c.Command) -> None:
    """A close cap that was never measured: asked once its sides are deep enough, then fastened."""
    state = ended("close cap", 5, depth_mm=160.0)
    assert state.stage is Stage.FINISHING
    assert state.want == Want(Kind.AROUND)
    assert now(state).startswith("Measure around")
    left = said(state, command)
    assert left.stage is Stage.FINISHING
    assert left.want is None
    assert left.step == 0


def test_what_is_ripped_out_is_still_known_by_the_tape() -> None:
    """The tape saw the sides; without their last round they are as wide as they were."""
    state = ended("brimmed hat", 4)
    state = said(state, c.Measured(Amount(552.0, 1.0, Unit.MM), Kind.AROUND))
    assert state.doubt is None
    ripped = said(state, c.RippedBack(1))
    assert ripped.piece.sides_known
    assert ripped.piece.gauge.width_mm == state.piece.gauge.width_mm
    all_out = said(state, c.RippedBack(state.piece.side_rounds))
    assert all_out.offered is not None
    assert all_out.offered.stage is Stage.SIDES
    girth = all_out.offered.after * all_out.piece.gauge.width_mm
    assert abs(girth - 550.0) <= FIT_STEPS * all_out.piece.gauge.width_mm + 1e-6


@given(ENDS, st.floats(12, 25), st.booleans())
def test_only_what_is_new_has_rounds_ripped_back(shape: str, off_mm: float, wide: bool) -> None:
    """Sides that misfit, known by the tape: a count as called leaves them, so that whoever counts
    what is worked anew never comes round in a circle; a slip that makes it worse does not.
    """
    state = ended(shape, 4)
    piece = state.piece
    width = (550.0 + (off_mm if wide else -off_mm)) / piece.stitches
    height = piece.gauge.height_mm
    depth = depth_at(piece, piece.finished).mean
    gauge = exactly(width, height, depth - piece.finished * height)
    state = replace(state, piece=replace(piece, gauge=gauge, sides_known=True))
    as_called = decide(state, c.Counted(piece.stitches))
    assert not any(isinstance(event, RoundsTakenBack) for event in as_called)
    slipped = decide(state, c.Counted(piece.stitches + (1 if wide else -1)))
    assert any(isinstance(event, RoundsTakenBack) for event in slipped)
