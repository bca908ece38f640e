"""What each command does, and what it is refused for: every reason there is can be reached."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.commands import Command, Kind, Look
from pattern.session.decisions import decide
from pattern.session.refusals import Reason
from pattern.session.state import FINISHING_STEPS, State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from tests.hats import at, begun, said, until, why_refused
from tests.openings import opening


def mm(value: float) -> Amount:
    return Amount(value, 1.0, Unit.MM)


def crown(rounds: int = 2) -> State:
    return until(lambda now: now.piece.finished == rounds, begun())


def doubted() -> State:
    """A reading across far from what was expected was read back."""
    return said(crown(3), c.Measured(mm(200), Kind.ACROSS))


CASES: dict[Reason, tuple[Callable[[], State], Command]] = {
    Reason.PAUSED: (lambda: said(crown(), c.Pause()), c.Next()),
    Reason.DOUBT_OPEN: (doubted, c.Next()),
    Reason.NOTHING_ASKED: (crown, c.Answer(Amount(7))),
    Reason.NO_FURTHER: (State, c.Speak(c.Manner.LOUDER)),
    Reason.NOT_OF_SHAPE: (lambda: begun(shape="bowl", across_mm=100.0), c.StartBrim()),
    Reason.ODD_WAIT: (State, c.RemindAfter(1)),
    Reason.NOT_DONE: (crown, c.Another()),
    Reason.SIZE_KNOWN: (begun, c.AlsoFor(mm(420))),
    Reason.SIZES_FULL: (
        lambda: said(begun(), *(c.AlsoFor(mm(head)) for head in (440, 460, 480, 500, 520))),
        c.AlsoFor(mm(540)),
    ),
    Reason.NO_SIZES: (begun, c.OneSize()),
    Reason.OWN_WIDTH: (begun, c.OwnWidth(c.OwnUnit.FINGER, mm(3))),
    Reason.ODD_SWATCH: (State, c.Swatch(20, mm(2000))),
    Reason.ODD_WASHING: (
        lambda: said(State(), c.Swatch(20, mm(140))),
        c.Swatch(20, mm(70), washed=True),
    ),
    Reason.NOTHING_TO_UNDO: (State, c.Undo()),
    Reason.NOTHING_DOUBTED: (crown, c.Yes()),
    Reason.STILL_SETUP: (State, c.Next()),
    Reason.SETUP_OVER: (begun, c.Begin()),
    Reason.ALL_DONE: (lambda: at(Stage.DONE), c.Next()),
    Reason.NO_ROUND_BACK: (begun, c.Back()),
    Reason.NO_SETS: (begun, c.Sets(1)),
    Reason.TOO_MANY_SETS: (crown, c.Sets(7)),
    Reason.WRONG_UNIT: (crown, c.Measured(Amount(4, unit=Unit.GRAM))),
    Reason.NOT_A_LENGTH: (crown, c.Measured(Amount(0))),
    Reason.ABSURD: (crown, c.Measured(mm(4000), Kind.ACROSS)),
    Reason.TOO_EARLY: (begun, c.Measured(mm(20), Kind.ACROSS)),
    Reason.NOT_HERE: (lambda: at(Stage.SIDES), c.StartSides()),
    Reason.COUNT_IMPOSSIBLE: (crown, c.Counted(13)),
    Reason.MORE_THAN_WORKED: (crown, c.RippedBack(3)),
    Reason.OUT_OF_LIMITS: (crown, c.Change("depth_mm", mm(20))),
    Reason.TOO_LONG: (
        State,
        c.Choose(
            "shape",
            'name = "long tube"\nacross = "1 m"\n'
            '[[part]]\nkind = "disc"\ngirth = 1\n' + 2 * '[[part]]\nkind = "side"\nlength = 6\n',
        ),
    ),
    Reason.OTHER_UNIT: (
        lambda: said(State(), c.Choose("unit", "centimeter")),
        c.Change("head_mm", Amount(22)),
    ),
    Reason.NO_SUCH_STITCH: (State, c.Choose("stitch", "double treble")),
    Reason.FIXED: (crown, c.Choose("stitch", "double")),
    Reason.NO_BRIM: (lambda: at(Stage.SIDES, begun(brim_mm=0.0)), c.StartBrim()),
    Reason.WHICH_WAY: (
        lambda: said(State(), c.EveryQuestion(), *[c.Skip()] * 7),
        c.Answer(Amount(1)),
    ),
    Reason.WRONG_ANSWER: (lambda: said(State(), *[c.Skip()] * 4), c.Answer(Amount(5))),
    Reason.NOT_A_WEIGHT: (crown, c.Weighed(Amount(5, unit=Unit.CM))),
    Reason.MORE_YARN: (lambda: said(crown(), c.Weighed(Amount(90))), c.Weighed(Amount(95))),
    Reason.ABSURD_WEIGHT: (
        lambda: said(begun(), c.Weighed(Amount(90)), c.Next(), c.Next()),
        c.Weighed(Amount(10)),
    ),
    Reason.ODD_RHYTHM: (crown, c.Rests(4)),
    Reason.EMPTY_NOTE: (crown, c.Note(" \x00 ")),
    Reason.LONG_NOTE: (crown, c.Note("a" * 201)),
    Reason.WHICH_BALL: (crown, c.HaveBalls(Amount(3))),
    Reason.NO_PLACE_FOR: (
        lambda: begun(shape="mat", across_mm=300.0),
        c.Decorate(c.Decoration.RIBBON),
    ),
    Reason.NOTHING_CALLED: (begun, c.Enough()),
}


@pytest.mark.parametrize("reason", Reason)
def test_every_reason_is_reached(reason: Reason) -> None:
    state, command = CASES[reason]
    assert why_refused(state(), command) is reason


@pytest.mark.parametrize(
    ("state", "command", "reason"),
    [
        (crown, c.Sets(-1), Reason.TOO_MANY_SETS),
        (crown, c.RippedBack(0), Reason.MORE_THAN_WORKED),
        (crown, c.RippedBack(-1), Reason.MORE_THAN_WORKED),
        (State, c.Back(), Reason.NO_ROUND_BACK),
        (State, c.StartSides(), Reason.STILL_SETUP),
        (State, c.FinishNow(), Reason.STILL_SETUP),
        (State, c.Measured(mm(70)), Reason.STILL_SETUP),
        (State, c.Counted(6), Reason.TOO_EARLY),
        (State, c.Lies(Look.FLAT), Reason.TOO_EARLY),
        (begun, c.FinishNow(), Reason.TOO_EARLY),
        (begun, c.StartSides(), Reason.TOO_EARLY),
        (crown, c.Skip(), Reason.NOTHING_ASKED),
        (crown, c.No(), Reason.NOTHING_DOUBTED),
        (lambda: at(Stage.SIDES), c.StartSides(), Reason.NOT_HERE),
        (lambda: at(Stage.SIDES), c.StartBrim(), Reason.TOO_EARLY),
        (lambda: said(at(Stage.SIDES), c.Next()), c.Lies(Look.FLAT), Reason.TOO_EARLY),
        (lambda: at(Stage.FINISHING), c.FinishNow(), Reason.NOT_HERE),
        (lambda: at(Stage.DONE), c.Sets(1), Reason.NO_SETS),
    ],
)
def test_refused_too(state: Callable[[], State], command: Command, reason: Reason) -> None:
    assert why_refused(state(), command) is reason


def test_next_goes_from_ring_to_done() -> None:
    """Every stage in its order, and each finishing step is called."""
    state, seen = begun(), [Stage.RING]
    steps = 0
    while state.stage is not Stage.DONE:
        steps += state.stage is Stage.FINISHING
        state = said(state, c.Next())
        seen += [state.stage] if state.stage is not seen[-1] else []
    assert seen == [Stage.RING, Stage.CROWN, Stage.SIDES, Stage.BRIM, Stage.FINISHING, Stage.DONE]
    assert steps == len(FINISHING_STEPS)


@given(st.integers(1, 8), st.integers(1, 8))
def test_ripping_back_offers_the_round_again(worked: int, back: int) -> None:
    before = crown(worked)
    if back > worked:
        assert why_refused(before, c.RippedBack(back)) is Reason.MORE_THAN_WORKED
        return
    after = said(before, c.RippedBack(back))
    assert after.offered == crown(worked - back).offered
    assert after.piece.stitches == crown(worked - back).piece.stitches


@given(st.lists(st.integers(0, 6), min_size=1, max_size=5))
def test_repeats_are_kept_and_stepped_back(counts: list[int]) -> None:
    state = crown()
    for count in counts:
        state = said(state, c.Sets(count))
        assert state.sets == count
    back = decide(state, c.Back())
    assert back == (
        (e.SetsWorked(state.sets - 1),) if state.sets else (e.RoundsTakenBack(1, ripped=False),)
    )
    assert said(crown(), c.Sets(2), c.Sets(3, more=True)).sets == 5


def test_back_in_the_interview_and_at_the_end() -> None:
    asked = said(State(), c.Skip(), c.Skip())
    assert said(asked, c.Back()).question == said(State(), c.Skip()).question
    done = at(Stage.DONE)
    assert said(done, c.Back()).stage is Stage.FINISHING
    finishing = at(Stage.FINISHING)
    assert said(finishing, c.Back()).stage is Stage.BRIM


@pytest.mark.parametrize("command", [c.Ask(c.Asked.WHERE), c.Help("measuring")])
def test_asking_changes_nothing(command: Command) -> None:
    assert decide(crown(), command) == ()
    assert decide(said(crown(), c.Pause()), command) == ()


def test_pause_lets_only_resume_leave_and_questions_through() -> None:
    paused = said(crown(), c.Pause())
    assert said(paused, c.Leave()) == paused
    assert said(paused, c.Resume()).paused is False
    assert said(crown(), c.Wording(True)).brief is True


def test_finishing_early_is_doubted_first() -> None:
    state = said(crown(5), c.FinishNow())
    assert state.doubt is not None
    assert said(state, c.Yes()).stage is Stage.FINISHING
    assert said(state, c.No()).doubt is None
    assert said(state, c.No()).stage is Stage.CROWN
    assert why_refused(state, c.No(Amount(3))) is Reason.WRONG_ANSWER


def test_sides_and_brim_when_the_maker_says() -> None:
    state = said(crown(5), c.StartSides())
    assert (state.stage, state.offered and state.offered.sets) == (Stage.SIDES, 0)
    within = said(crown(5), c.Sets(2), c.StartSides())
    assert within.offered is not None
    assert (within.offered.after - within.offered.before, within.sets) == (2, 2)
    assert said(state, c.Next(), c.StartBrim(), c.Yes()).stage is Stage.BRIM


@pytest.mark.parametrize(("look", "change"), [(Look.RIPPLES, 0), (Look.FLAT, 6), (Look.CUPS, 8)])
def test_a_look_changes_the_next_round(look: Look, change: int) -> None:
    """Ripples: a plain round; a cup: some more increases. Common practice, no source."""
    offered = said(crown(3), c.Lies(look)).offered
    assert offered is not None
    assert offered.after - offered.before == change


@pytest.mark.parametrize(("look", "changes"), [(Look.RIPPLES, {0}), (Look.CUPS, {7, 8, 9})])
def test_a_look_within_a_round_changes_the_one_after_it(look: Look, changes: set[int]) -> None:
    """A round in work goes on as it was called."""
    within = said(crown(4), c.Sets(2))
    told = said(within, c.Lies(look))
    assert told.offered == within.offered
    after = said(told, c.Next())
    assert after.offered is not None
    assert after.offered.after - after.offered.before in changes
    assert said(after, c.Next()).piece.look is None


def test_opening_with_and_without_enough() -> None:
    turn = opening(State(), {"unit": "centimeter", "head_mm": 540.0})
    assert not [event for event in turn if isinstance(event, e.RoundOffered)]
    with pytest.raises(ValueError, match="head_mm"):
        opening(State(), {"head_mm": 5400.0})
