"""Decisions on answers: to what was doubted, to what was asked, and changes of them later."""

from __future__ import annotations

from dataclasses import replace

from pattern.plan.next_round import next_round
from pattern.plan.readings import Reading
from pattern.session import (
    bare_number,
    decide_asides,
    decide_gauge,
    decide_interview,
    decide_readings,
    decide_yarn,
)
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.decide_work import measured, started
from pattern.session.folding import Decided, Turn, Unfolding, unfolding
from pattern.session.next_offer import offered_after, refused
from pattern.session.refusals import Reason
from pattern.session.state import RIPPED, WEIGHT, State
from pattern.shape.interview import BEGIN
from pattern.shape.limits import LIMITS, with_answer
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount


def yes(state: State, command: c.Yes) -> Decided:
    """Confirm what was in doubt. Raises: Refused when nothing was."""
    doubt = state.doubt
    if doubt is None and state.question == BEGIN:
        return begin(state, c.Begin())
    if doubt is None:
        raise refused(state, command, Reason.NOTHING_DOUBTED)
    if doubt.reading is not None:
        own = (e.QuestionAnswered("unit", doubt.unit.value),) if doubt.unit else ()
        return offered_after(unfolding(state, *own, e.ReadingTaken(doubt.reading)))
    if doubt.count is not None:
        return offered_after(unfolding(state, e.CountTaken(doubt.count)))
    if doubt.start is not None:
        return started(state, doubt.start)
    return (e.StageStarted(Stage.FINISHING),)


def no(state: State, command: c.No) -> Decided:
    """Mends what was in doubt, or else the last thing that was believed.

    Where it is asked whether to begin, a bare no only asks what is to change.
    """
    if state.doubt is not None:
        if command.amount is None:
            return (e.DoubtDropped(),)
        mended = decide_readings.again(state, state.doubt, command)
        return offered_after(unfolding(state, e.DoubtDropped(), *mended))
    if state.question == BEGIN and command.amount is None:
        return ()
    if state.last is None or state.undo is None:
        raise refused(state, command, Reason.NOTHING_DOUBTED)
    undone = unfolding(state, e.Undone())
    if command.amount is None:
        return undone
    amount = _in_its_unit(state, undone.now, command.amount)
    return _mended(undone, state.last, replace(command, amount=amount), amount)


def _mended(
    undone: Unfolding, last: Reading | int | str | e.SwatchTaken, command: c.No, amount: Amount
) -> Unfolding:
    """The turn that has undone what was believed last, with what is right."""
    before = undone.now
    if last == WEIGHT:
        return undone.then(*decide_yarn.weighed(before, command))
    if last == RIPPED:
        rounds, worked = amount.whole() or 0, before.piece.finished
        if not 0 < rounds <= worked:
            raise refused(before, command, Reason.MORE_THAN_WORKED, worked=worked)
        return offered_after(undone.then(e.RoundsTakenBack(rounds, ripped=True)))
    if isinstance(last, e.SwatchTaken):
        swatch = c.Swatch(last.count, amount, last.rounds, last.washed)
        return offered_after(undone.then(*decide_gauge.swatch_events(before, swatch)))
    if isinstance(last, str):
        answered = _noted(before, decide_interview.answered(before, last, amount, command))
        return offered_after(decide_interview.closed(undone.then(*answered)))
    return offered_after(undone.then(*decide_readings.again(before, last, command)))


def _in_its_unit(state: State, before: State, amount: Amount) -> Amount:
    """A bare length is in the unit that was said with what it mends, though that is undone, too."""
    key, unit = state.last, state.settings.unit
    length = isinstance(key, Reading | e.SwatchTaken) or (
        isinstance(key, str) and key in LIMITS and LIMITS[key].tape
    )
    said = amount.unit is not None or before.settings.unit is unit
    return replace(amount, unit=unit) if length and not said else amount


def _noted(state: State, turn: Turn) -> Turn:
    """The turn, with a note for the write-up where another hook is taken in the middle."""
    for event in turn if state.piece.finished else ():
        if isinstance(event, e.QuestionAnswered) and event.key == "hook_mm":
            hook_mm = with_answer(state.settings, event.key, event.value).hook
            text = f"a {hook_mm:g} mm hook from here on"
            return (e.NoteTaken(text, decide_asides.here(state)), *turn)
    return turn


def skip(state: State, command: c.Skip) -> Decided:
    """The doubt, question or request that is open is left. Raises: Refused when none is."""
    if state.doubt is not None:
        return (e.DoubtDropped(),)
    if (key := state.question) == BEGIN:
        return begin(state, c.Begin())
    if key is not None:
        ease = decide_interview.usual_ease(state) if key == "ease_mm" else ()
        skipped = unfolding(state, *(ease or (e.QuestionSkipped(key),)))
        return offered_after(decide_interview.closed(skipped))
    if state.want is not None:
        return (e.ReadingSkipped(),)
    raise refused(state, command, Reason.NOTHING_ASKED)


def answer(state: State, command: c.Answer) -> Decided:
    """A bare number or length, for whatever asks; a bare weight is that of the yarn left.

    Raises: Refused when nothing asks for one.
    """
    if state.doubt is not None:
        return no(state, c.No(command.amount))
    if (key := state.question) is not None:
        if key == "unit":
            return changes(state, c.Change(_size(state), command.amount))
        answered = decide_interview.answered(state, key, command.amount, command)
        return offered_after(decide_interview.closed(unfolding(state, *answered)))
    match bare_number.meant(state, command):
        case c.Weighed() as weighed:
            return decide_yarn.weighed(state, weighed)
        case c.Measured() as reading:
            return measured(state, reading)
    raise refused(state, command, Reason.NOTHING_ASKED)


def _size(state: State) -> str:
    """The size that a length is, where it is asked for the unit."""
    return "head_mm" if state.settings.shape.for_head else "across_mm"


def begin(state: State, command: c.Begin) -> Unfolding:
    """The interview ends with the usual answers. Raises: Refused after it."""
    if state.stage is not Stage.SETUP:
        raise refused(state, command, Reason.SETUP_OVER)
    return offered_after(decide_interview.done(unfolding(state)))


def every_question(state: State, command: c.EveryQuestion) -> Turn:
    """All questions are asked from now on. Raises: Refused after the interview."""
    if state.stage is not Stage.SETUP:
        raise refused(state, command, Reason.SETUP_OVER)
    return () if BEGIN in state.answered else (e.QuestionSkipped(BEGIN),)


def changes(state: State, command: c.Choose | c.Change | c.Adjust | c.HeadOf) -> Unfolding:
    """An answer given by name, now or later. Raises: Refused for one that makes no sense."""
    turn = _noted(state, decide_interview.changed(state, command))
    so_far = decide_interview.closed(unfolding(state, *turn))
    if state.stage is not Stage.FINISHING or state.step:
        return offered_after(so_far)
    more = next_round(so_far.now.piece)  # not fastened off yet: a wider brim goes on
    widened = more is not None and getattr(command, "key", "") == "brim_mm"
    return so_far.then(e.RoundOffered(more)) if more is not None and widened else so_far
