"""Which reading is asked for when: often enough for the fit, and not more than is worth it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.plan.asking import ASKED_IN_ALL, ASKED_ON_SIDES, BAND_NEAR, LEFT_ALONE, Asking
from pattern.plan.counting import BEFORE_BAND, MOST_COUNTS, worth_counting
from pattern.plan.counting import LEFT_ALONE as COUNT_LEFT_ALONE
from pattern.plan.next_reading import wanted
from pattern.plan.readings import girth_finished
from pattern.plan.sides import FIT_STEPS, band_rounds, correction, sides_left
from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.session.decisions import decide
from pattern.session.events import ReadingWanted
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.shape.catalogue import SHAPES, Shape
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from tests.openings import opening
from voice.sentences.due import now

HEADS = st.floats(450, 600)
HEIGHTS = st.floats(1.0, 1.25)
"""Height over width of single crochet. Common practice, one test."""
FOR_HEADS = [shape for shape in SHAPES if shape.for_head]
TIGHT = st.floats(0.85, 1.15)


def do(state: State, command: c.Command) -> State:
    return fold(state, decide(state, command))


def across(state: State, inches: float, step: float) -> State:
    skipped = do(state, c.Skip()) if state.want is not None else state
    taken = do(skipped, c.Measured(Amount(inches, step, Unit.INCH), Kind.ACROSS))
    return do(taken, c.Yes()) if taken.doubt is not None else taken


def to_round(state: State, rounds: int) -> State:
    while state.piece.finished < rounds:
        state = do(state, c.Skip() if state.want is not None else c.Next())
    return state


def said(state: State, width: float, ratio: float) -> c.Command:
    """What a maker of even hands says, to the millimetre."""
    want, piece = state.want, state.piece
    if state.doubt is not None:
        return c.Yes()
    assert want is not None
    if want.kind is Kind.LOOK:
        return c.Lies(c.Look.FLAT)
    out = width * ratio * piece.finished
    true = {
        Kind.ACROSS: 2 * out,
        Kind.AROUND: piece.stitches * width,
        Kind.DEPTH: out,
        Kind.ALONG: (want.stitches or 1) * width,
        Kind.BRIM: width * ratio * piece.brim_rounds,
    }[want.kind]
    return c.Measured(Amount(round(true), 1.0, Unit.MM), want.kind, want.stitches)


@given(HEADS, TIGHT, HEIGHTS, st.sampled_from((3, 4, 5)))
def test_even_hands_get_the_girth_to_half_a_stitch(
    head_mm: float, tight: float, ratio: float, yarn: int
) -> None:
    """Plane geometry: whole stitches leave half a stitch, the millimetre half of one."""
    state = fold(State(), opening(State(), {"head_mm": head_mm, "yarn": yarn, "hook_mm": 5.0}))
    width = state.piece.gauge.width_mm * tight
    late = []
    while state.stage is not Stage.FINISHING:
        if state.want is None and state.doubt is None:
            state = do(state, c.Next())
            continue
        if state.want is not None and state.doubt is None and state.stage is Stage.SIDES:
            late.append((state.want.kind, sides_left(state.piece).mean))
        state = do(state, said(state, width, ratio))
    assert abs(state.piece.edge_stitches * width - head_mm) <= FIT_STEPS * width + 3
    assert len(late) <= ASKED_ON_SIDES
    assert all(left >= 0.5 for _, left in late), "too late to be of use"


@given(HEADS, st.sampled_from((3, 4, 5)))
def test_a_maker_who_leaves_readings_out_is_not_nagged(head_mm: float, yarn: int) -> None:
    state = fold(State(), opening(State(), {"head_mm": head_mm, "yarn": yarn, "hook_mm": 5.0}))
    asked: list[tuple[Stage, Kind, float]] = []  # the last is how far above the band
    rounds: list[int] = []
    while state.stage is not Stage.FINISHING:
        if state.want is None:
            state = do(state, c.Next())
            continue
        above = sides_left(state.piece).mean - band_rounds(state.piece)
        asked.append((state.stage, state.want.kind, above))
        if state.want.kind is not Kind.LOOK:
            rounds.append(state.piece.finished)
        state = do(state, c.Skip())
    late = {Stage.SIDES, Stage.BRIM}
    sides = [(k, above) for at, k, above in asked if at in late and k is not Kind.BRIM]
    assert 2 <= len(sides) <= ASKED_ON_SIDES
    assert sides[-1][0] is Kind.AROUND
    assert sides[-1][1] < BAND_NEAR + LEFT_ALONE
    assert all(after - one > LEFT_ALONE for one, after in pairwise(rounds))
    assert state.piece.edge_stitches == pytest.approx(
        head_mm / state.piece.gauge.width_mm, abs=0.5
    ), "nothing was learned, so nothing is corrected"


def test_a_late_reading_is_corrected_before_the_brim() -> None:
    state = fold(State(), opening(State(), {"head_mm": 540.0, "yarn": 4, "hook_mm": 4.5}))
    while state.stage is not Stage.SIDES or sides_left(state.piece).mean >= 2.5:
        state = do(state, c.Skip() if state.want is not None else c.Next())
    wide = state.piece.stitches * state.piece.gauge.width_mm * 1.05
    state = do(state, c.Measured(Amount(round(wide), 1.0, Unit.MM), Kind.AROUND))
    state = do(state, c.Yes()) if state.doubt is not None else state
    assert correction(state.piece) < 0
    while state.stage is Stage.SIDES:
        state = do(state, c.Skip() if state.want is not None else c.Next())
    half = FIT_STEPS * state.piece.gauge.width_mm
    assert girth_finished(state.piece).mean == pytest.approx(540.0, abs=half)


def test_a_hat_of_eight_increases_stops_where_the_trade_stops() -> None:
    """Across 3.9 in after round 6, 5 after 8, 5.9 after 10 and 6.5 at 6 of the 8 sets of round 11
    of a 22 in head is where increasing stops: half an inch short of 22 / pi. Common practice, no
    source.
    """
    assert 22 / math.pi - 6.5 == pytest.approx(0.5, abs=0.01)
    answers = {"head_mm": 22 * 25.4, "yarn": 4, "hook_mm": 4.5, "start": 8, "unit": "inch"}
    state = fold(State(), opening(State(), answers))
    for rounds, inches, step in ((6, 3.9, 0.1), (8, 5.0, 0.5), (10, 5.9, 0.1)):
        state = across(to_round(state, rounds), inches, step)
    assert state.offered is not None
    state = do(state, c.Sets(min(6, state.offered.sets)))
    state = across(state, 6.5, 0.5)
    while state.stage is Stage.CROWN:
        state = do(state, c.Skip() if state.want is not None else c.Next())
    assert state.piece.finished <= 12
    assert girth_finished(state.piece).mean == pytest.approx(22 * 25.4, rel=0.04)


@given(HEADS, st.booleans())
def test_few_rounds_are_worth_a_count(head_mm: float, slipped: bool) -> None:
    """The last of the crown and two of the sides; where a slip was found those of the band, and
    some that come before it; no round of the brim.
    """
    state = fold(State(), opening(State(), {"head_mm": head_mm, "yarn": 4, "hook_mm": 5.0}))
    flags: list[tuple[Stage, float, bool]] = []
    while state.stage is not Stage.FINISHING:
        if state.want is not None:
            state = do(state, c.Skip())
            continue
        if state.offered is not None:
            counts = worth_counting(state.piece, state.offered, slips=state.slips_found)
            above = sides_left(state.piece).mean - band_rounds(state.piece)
            flags.append((state.offered.stage, above if state.slips_found else math.inf, counts))
        state = do(state, c.Next())
        if slipped and state.piece.side_rounds == 3 and not state.slips_found:
            state = do(state, c.Counted(state.piece.stitches + 1))
    before = [counts for stage, _, counts in flags if stage in {Stage.RING, Stage.CROWN}]
    assert before == [False] * (len(before) - 1) + [True]
    sides = [(above, counts) for stage, above, counts in flags if stage is Stage.SIDES]
    assert sides[-1][1]
    assert all(counts for above, counts in sides if above < BEFORE_BAND)
    assert sum(counts for _, counts in sides) <= (len(sides) / 2 + 2 if slipped else 3)
    assert not any(counts for stage, _, counts in flags if stage is Stage.BRIM)


def counts_asked(state: State, answer: Callable[[State], c.Command | None]) -> list[int]:
    """Rounds that a maker is asked to count, who then says `answer`, where it is something."""
    asked: list[int] = []
    while state.stage is not Stage.FINISHING:
        if state.want is not None:
            state = do(state, c.Skip())
            continue
        offered = state.offered
        assert offered is not None
        request = "Count this round" in now(state)
        state = do(state, c.Next())
        if request:
            asked.append(offered.number)
            if (said := answer(state)) is not None:
                state = do(state, said)
    return asked


@given(HEADS, st.sampled_from(FOR_HEADS), st.booleans())
def test_two_counts_at_most_where_nothing_is_wrong(
    head_mm: float, shape: Shape, counting: bool
) -> None:
    answers = {"head_mm": head_mm, "yarn": 4, "hook_mm": 5.0, "shape": shape.name}
    state = fold(State(), opening(State(), answers))
    asked = counts_asked(state, lambda after: c.Counted(after.piece.stitches) if counting else None)
    straight = any(stretch.stage is Stage.SIDES for stretch in state.piece.stretches)
    assert straight <= len(asked) <= MOST_COUNTS


@given(HEADS, st.integers(0, 3))
def test_a_count_that_was_left_out_is_not_asked_for_again_soon(head_mm: float, right: int) -> None:
    """Also where a slip was found, and each round of the band is worth a count."""
    state = fold(State(), opening(State(), {"head_mm": head_mm, "yarn": 4, "hook_mm": 5.0}))
    told: list[int] = []

    def answer(after: State) -> c.Command | None:
        told.append(after.piece.finished)
        if len(told) == 1:
            return c.Counted(after.piece.stitches + 1)
        return c.Counted(after.piece.stitches) if len(told) <= 1 + right else None

    asked = counts_asked(state, answer)
    left_out = asked[1 + right :]
    assert len(asked) > 1
    assert all(after - one > COUNT_LEFT_ALONE for one, after in pairwise(left_out))


@given(HEADS, TIGHT, HEIGHTS, st.sampled_from((3, 4, 5)), st.sampled_from(FOR_HEADS))
def test_no_more_readings_are_asked_for_than_a_maker_stands(
    head_mm: float, tight: float, ratio: float, yarn: int, shape: Shape
) -> None:
    """Where nothing goes wrong."""
    answers = {"head_mm": head_mm, "yarn": yarn, "hook_mm": 5.0, "shape": shape.name}
    state = fold(State(), opening(State(), answers))
    width = state.piece.gauge.width_mm * tight
    asked = 0
    while state.stage is not Stage.FINISHING:
        waits = state.want is not None or state.doubt is not None
        turn = decide(state, said(state, width, ratio) if waits else c.Next())
        asked += sum(
            isinstance(event, ReadingWanted) and event.kind is not Kind.LOOK for event in turn
        )
        state = fold(state, turn)
    assert 0 < asked == state.asks_in_all <= ASKED_IN_ALL


def test_other_hands_may_be_asked_as_often_as_the_first() -> None:
    """Where a reading is worth it, it is asked for unless that was done too often since then."""
    answers: dict[str, str | float | None] = {"head_mm": 560.0, "yarn": 3, "hook_mm": 4.0}
    state = fold(State(), opening(State(), answers))
    while state.want is None or state.want.kind is Kind.LOOK:
        state = do(state, c.Skip() if state.want else c.Next())
    piece, asked = state.piece, Asking(5, unseen=False, times=0, in_all=ASKED_IN_ALL)
    assert wanted(piece, replace(asked, in_all=0)) is not None
    assert wanted(piece, asked) is None
    assert do(do(state, c.Skip()), c.OtherHands()).asks_in_all == 0
    assert do(do(state, c.Skip()), c.Change("hook_mm", Amount(5.0))).asks_in_all == 0
