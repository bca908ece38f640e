"""Readings in a session: taken, read back, refused, asked for; and what they lead to."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.gauge.estimate import DOUBT
from pattern.plan.readings import expected, girth_finished, reading_of
from pattern.session import commands as c
from pattern.session.bare_number import ABSURD
from pattern.session.commands import Kind
from pattern.session.decide_readings import SETS_BETWEEN
from pattern.session.decisions import decide
from pattern.session.events import ReadingDoubted, ReadingTaken, ReadingWanted
from pattern.session.refusals import Reason, Refused
from pattern.session.state import State
from pattern.shape.reading_kinds import TAPE
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from tests.hats import at, begun, said, until, why_refused

INCH = 25.4
FELT = sorted(TAPE)


def crown(rounds: int = 4, **answers: str | float | None) -> State:
    begin = begun(**{"unit": "millimeter", **answers})
    return until(lambda now: now.piece.finished == rounds, begin)


def hoped_mm(state: State, kind: Kind, stitches: int | None = None) -> float:
    blank = reading_of(state.piece, kind, 0.0, 6.35, 0.0, stitches=stitches)
    return expected(state.piece, blank).mean


def mm(value: float) -> Amount:
    return Amount(value, 1.0, Unit.MM)


def kinds_of(state: State, command: c.Command) -> list[type]:
    return [type(event) for event in decide(state, command)]


@given(st.sampled_from([Kind.ACROSS, Kind.AROUND, Kind.DEPTH]), st.floats(0.01, 10))
def test_a_reading_is_taken_read_back_or_absurd(kind: Kind, off: float) -> None:
    """Nothing else comes of a length; what is absurd is so both ways."""
    state = crown()
    hoped = hoped_mm(state, kind)
    command = c.Measured(mm(off * hoped), kind)
    if not 1 / ABSURD < off < ABSURD:
        assert why_refused(state, command) is Reason.ABSURD
        return
    first = kinds_of(state, command)[0]
    assert first in {ReadingTaken, ReadingDoubted}
    if abs(math.log(off)) < 0.05:
        assert first is ReadingTaken
    if abs(off - 1) > 0.6:
        assert first is ReadingDoubted


@given(st.floats(-100, 0), st.sampled_from([None, Unit.INCH, Unit.CM]))
def test_nothing_is_no_length(value: float, unit: Unit | None) -> None:
    assert why_refused(crown(), c.Measured(Amount(value, 1.0, unit))) is Reason.NOT_A_LENGTH


@pytest.mark.parametrize("unit", [Unit.GRAM, Unit.OUNCE, Unit.METRE, Unit.YARD])
def test_a_weight_or_a_ball_is_no_reading(unit: Unit) -> None:
    assert why_refused(crown(), c.Measured(Amount(4, unit=unit))) is Reason.WRONG_UNIT


@pytest.mark.parametrize("stage", [Stage.CROWN, Stage.SIDES, Stage.BRIM])
@pytest.mark.parametrize("kind", FELT)
def test_each_kind_is_taken_where_it_makes_sense(stage: Stage, kind: Kind) -> None:
    """Across a crown, around and along anywhere, depth before the brim, brim on the brim."""
    state = said(at(stage, begun(unit="millimeter")), c.Next(), c.Next())
    sensible = {Kind.AROUND, Kind.ALONG} | {
        Stage.CROWN: {Kind.ACROSS, Kind.CORNERS, Kind.DEPTH},
        Stage.SIDES: {Kind.DEPTH},
        Stage.BRIM: {Kind.BRIM},
    }[stage]
    command = c.Measured(mm(max(hoped_mm(state, kind), 1.0)), kind)
    if kind in sensible:
        assert kinds_of(state, command)[0] is ReadingTaken
    else:
        reasons = {Reason.NOT_HERE, Reason.TOO_EARLY}
        assert why_refused(state, command) in reasons


def test_a_shrinking_piece_is_read_back() -> None:
    state = crown(6)
    state = said(state, c.Measured(mm(hoped_mm(state, Kind.ACROSS)), Kind.ACROSS))
    first = state.last
    assert first is not None
    later = until(lambda now: now.piece.finished == 7, state)
    less = c.Measured(mm(hoped_mm(state, Kind.ACROSS) - 8), Kind.ACROSS)
    assert kinds_of(later, less) == [ReadingDoubted]
    doubt = said(later, less)
    assert why_refused(doubt, c.Next()) is Reason.DOUBT_OPEN
    assert said(doubt, c.Skip()).doubt is None
    assert said(doubt, c.Yes()).last != first


def test_what_was_read_back_can_be_put_right() -> None:
    state = crown(4)
    hoped = round(hoped_mm(state, Kind.ACROSS))
    doubt = said(state, c.Measured(mm(2 * hoped), Kind.ACROSS))
    right = said(state, c.Measured(mm(hoped), Kind.ACROSS))
    for reply in (c.No(mm(hoped)), c.Answer(mm(hoped))):
        assert said(doubt, reply).piece == right.piece
    assert said(said(state, c.Measured(mm(hoped + 2), Kind.ACROSS)), c.No(mm(hoped))).piece == (
        right.piece
    )
    assert said(doubt, c.No()).piece == state.piece


def test_stitches_along_the_edge() -> None:
    state = crown(4)
    good = mm(hoped_mm(state, Kind.ALONG, 10))
    assert said(state, c.Measured(good, Kind.ALONG, 10)).piece.gauge != state.piece.gauge
    for stitches in (0, -1, 25):
        command = c.Measured(good, Kind.ALONG, stitches)
        assert why_refused(state, command) is Reason.COUNT_IMPOSSIBLE


def test_a_bare_number_answers_what_was_asked() -> None:
    state = begun(head_mm=560.0, yarn=4, hook_mm=5.0)
    state = until(lambda now: now.want is not None and now.want.kind is not Kind.LOOK, state)
    want = state.want
    assert want is not None
    hoped = Amount(round(hoped_mm(state, want.kind, want.stitches) / INCH, 1), 0.1)
    by_kind = said(state, c.Measured(hoped, want.kind, want.stitches))
    assert said(state, c.Answer(hoped)).piece == by_kind.piece
    assert said(state, c.Skip()).want is None


def test_near_the_end_it_is_measured_after_every_few_repeats() -> None:
    """Three or four repeats apart: common practice, no source."""
    assert SETS_BETWEEN in {3, 4}
    state = begun(head_mm=558.8, yarn=4, hook_mm=4.0, start=8)
    state = until(lambda now: now.piece.stitches == 88 - 8, state)
    asked = [sets for sets in range(1, 8) if ReadingWanted in kinds_of(state, c.Sets(sets))]
    assert asked == [SETS_BETWEEN]
    early = until(lambda now: now.piece.finished == 4, begun(head_mm=558.8, yarn=4, start=8))
    assert ReadingWanted not in kinds_of(early, c.Sets(SETS_BETWEEN))


def test_a_reading_the_maker_insists_on_is_believed_and_narrows() -> None:
    state = crown(4)
    doubt = said(state, c.Measured(mm(2 * hoped_mm(state, Kind.ACROSS)), Kind.ACROSS))
    believed = said(doubt, c.Yes())
    assert believed.doubt is None
    assert believed.piece.gauge.height_mm > 1.3 * state.piece.gauge.height_mm
    assert girth_finished(believed.piece).mean == pytest.approx(420, rel=0.05)


def test_the_refusal_of_an_absurd_reading_says_what_was_expected() -> None:
    with pytest.raises(Refused) as caught:
        decide(crown(4), c.Measured(Amount(60, unit=Unit.INCH), Kind.ACROSS))
    hoped = hoped_mm(crown(4), Kind.ACROSS)
    assert caught.value.detail["expected_mm"] == pytest.approx(hoped, rel=0.01)


@given(st.floats(5.5, 7.5))
def test_a_mended_length_is_in_the_unit_of_what_it_mends(across_cm: float) -> None:
    """Also where that unit was said with it for the first time, in the turn that is taken back."""
    state = said(begun(unit="inch"), c.Next(), c.Next())
    first = said(state, c.Measured(Amount(6.0, 0.5, Unit.CM)))
    mended = said(first, c.No(Amount(across_cm, 0.1)))
    again = said(state, c.Measured(Amount(across_cm, 0.1, Unit.CM)))
    assert mended.piece.gauge == again.piece.gauge
    assert mended.settings.unit is Unit.CM


def misread() -> State:
    """A reading in another unit than the maker's, so far off that it is read back."""
    state = crown(4, unit="centimeter")
    wrong = hoped_mm(state, Kind.ACROSS) * 1.7 / INCH
    doubted = said(state, c.Measured(Amount(round(wrong, 1), 0.1, Unit.INCH), Kind.ACROSS))
    assert doubted.doubt is not None
    assert doubted.settings.unit is Unit.CM
    return doubted


@pytest.mark.parametrize("reply", [c.No(), c.Skip(), c.Undo()])
def test_a_unit_said_with_a_reading_that_is_dropped_is_dropped(reply: c.Command) -> None:
    assert said(misread(), reply).settings.unit is Unit.CM


@pytest.mark.parametrize(
    "again", [c.No, c.Answer, lambda amount: c.Measured(amount, Kind.ACROSS), c.Measured]
)
def test_a_right_length_is_in_the_unit_of_the_doubted_one(
    again: Callable[[Amount], c.Command],
) -> None:
    state = misread()
    inches = round(hoped_mm(state, Kind.ACROSS) / INCH, 1)
    mended = said(state, again(Amount(inches, 0.1)))
    assert mended.settings.unit is Unit.INCH
    assert mended.taken is not None
    assert mended.taken.reading.value_mm == pytest.approx(inches * INCH)


def test_a_unit_said_with_a_reading_that_is_kept_stays() -> None:
    state = misread()
    kept = said(state, c.Yes())
    assert kept.settings.unit is Unit.INCH
    assert said(kept, c.Undo()).settings.unit is Unit.CM
    assert said(state, c.No(Amount(16.0, 1.0, Unit.CM))).settings.unit is Unit.CM


def sides_read() -> State:
    """Sides whose girth is known, by a reading that was as expected."""
    hat = begun(unit="millimeter", depth_mm=260.0)
    sides = until(lambda now: now.piece.side_rounds == 2, hat)
    read = said(sides, c.Measured(mm(round(hoped_mm(sides, Kind.AROUND))), Kind.AROUND))
    return said(read, c.Next(), c.Next())


@given(st.integers(-1, 1))
def test_what_comes_out_the_same_is_not_read_back_twice(apart: int) -> None:
    """A second look that agrees is believed; one that does not, and is off, is read back again."""
    state = sides_read()
    off = round(hoped_mm(state, Kind.AROUND)) + 40
    doubted = said(state, c.Measured(mm(off), Kind.AROUND))
    assert doubted.doubt is not None
    assert said(doubted, c.No(mm(off + apart))).doubt is None
    assert said(doubted, c.No(mm(off + 40))).doubt is not None


def test_the_tape_is_doubted_sooner_on_the_sides() -> None:
    state = sides_read()
    blank = reading_of(state.piece, Kind.AROUND, 0.0, 1.0, 0.0)
    hoped = expected(state.piece, blank)
    far = c.Measured(mm(round(hoped.mean + (DOUBT - 0.3) * hoped.sd)), Kind.AROUND)
    assert said(state, far).doubt is not None
