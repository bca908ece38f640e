"""Decisions on answers: to what was doubted, to what was asked, and changes of them later."""

from __future__ import annotations

from dataclasses import replace

from pattern.plan.next_round import next_round
from pattern.plan.readings import Reading
from pattern.session import commands as c
from pattern.session import (
    decide_asides,
    decide_gauge,
    decide_interview,
    decide_readings,
    decide_yarn,
)
from pattern.session import events as e
from pattern.session.decide_work import measured, started
from pattern.session.folding import fold
from pattern.session.next_offer import Turn, offered_after, refused
from pattern.session.refusals import Reason
from pattern.session.state import WEIGHT, State
from pattern.shape.limits import LIMITS
from pattern.shape.rounds import Stage
from pattern.trade.lengths import WEIGHT_UNITS, Amount


def yes(state: State, command: c.Yes) -> Turn:
    """What was in doubt is so. Raises: Refused when nothing was."""
    doubt = state.doubt
    if doubt is None:
        raise refused(state, command, Reason.NOTHING_DOUBTED)
    if doubt.reading is not None:
        own = (e.QuestionAnswered("unit", doubt.unit.value),) if doubt.unit else ()
        return offered_after(state, (*own, e.ReadingTaken(doubt.reading)))
    if doubt.count is not None:
        return offered_after(state, (e.CountTaken(doubt.count),))
    if doubt.start is not None:
        return started(state, doubt.start)
    return (e.StageStarted(Stage.FINISHING),)


def no(state: State, command: c.No) -> Turn:
    """Mends what was in doubt, or else the last thing that was believed."""
    if state.doubt is not None:
        dropped: Turn = (e.DoubtDropped(),)
        if command.amount is None:
            return dropped
        mended = decide_readings.again(state, state.doubt, command)
        return offered_after(state, (*dropped, *mended))
    if state.last is None or state.undo is None:
        raise refused(state, command, Reason.NOTHING_DOUBTED)
    undone: Turn = (e.Undone(),)
    if command.amount is None:
        return undone
    before = fold(state, undone)
    amount = _in_its_unit(state, before, command.amount)
    command = replace(command, amount=amount)
    if state.last == WEIGHT:
        return (*undone, *decide_yarn.weighed(before, command))
    if isinstance(state.last, e.SwatchTaken):
        taken = state.last
        swatch = c.Swatch(taken.count, amount, taken.rounds, taken.washed)
        return (*undone, *decide_gauge.swatched(before, swatch))
    if isinstance(state.last, str):
        mended = decide_interview.answered(before, state.last, amount, command)
        mended = _noted(before, state.last, mended)
        return (*undone, *offered_after(before, mended))
    return (*undone, *offered_after(before, decide_readings.again(before, state.last, command)))


def _in_its_unit(state: State, before: State, amount: Amount) -> Amount:
    """A bare length is in the unit that was said with what it mends, though that is undone, too."""
    key, unit = state.last, state.settings.unit
    length = isinstance(key, Reading | e.SwatchTaken) or (
        isinstance(key, str) and key in LIMITS and LIMITS[key].tape
    )
    said = amount.unit is not None or before.settings.unit is unit
    return replace(amount, unit=unit) if length and not said else amount


def _noted(state: State, key: str, turn: Turn) -> Turn:
    """The turn, with a note for the write-up where another hook is taken in the middle."""
    if key != "hook_mm" or not state.piece.finished:
        return turn
    text = f"a {fold(state, turn).settings.hook:g} mm hook from here on"
    return (e.NoteTaken(text, decide_asides.here(state)), *turn)


def skip(state: State, command: c.Skip) -> Turn:
    """The doubt, question or request that is open is left. Raises: Refused when none is."""
    if state.doubt is not None:
        return (e.DoubtDropped(),)
    if (key := state.question) is not None:
        return offered_after(state, decide_interview.closed(state, (e.QuestionSkipped(key),)))
    if state.want is not None:
        return (e.ReadingSkipped(),)
    raise refused(state, command, Reason.NOTHING_ASKED)


def answer(state: State, command: c.Answer) -> Turn:
    """A bare number or length, for whatever asks; a bare weight is that of the yarn left.

    Raises: Refused when nothing asks for one.
    """
    if state.doubt is not None:
        return no(state, c.No(command.amount))
    if (key := state.question) is not None:
        return offered_after(state, decide_interview.answered(state, key, command.amount, command))
    if command.amount.unit in WEIGHT_UNITS:
        return decide_yarn.weighed(state, c.Weighed(command.amount))
    if state.want is None or state.want.kind is c.Kind.LOOK:
        raise refused(state, command, Reason.NOTHING_ASKED)
    return measured(state, c.Measured(command.amount))


def begin(state: State, command: c.Begin) -> Turn:
    """The interview ends with the usual answers. Raises: Refused after it."""
    if state.stage is not Stage.SETUP:
        raise refused(state, command, Reason.SETUP_OVER)
    return offered_after(state, (e.SetupDone(),))


def changes(state: State, command: c.Choose | c.Change | c.Adjust | c.HeadOf) -> Turn:
    """An answer given by name, now or later. Raises: Refused for one that makes no sense."""
    turn = decide_interview.changed(state, command)
    turn = _noted(state, getattr(command, "key", ""), turn)
    if state.stage is not Stage.FINISHING or state.step:
        return offered_after(state, turn)
    more = next_round(fold(state, turn).piece)  # not fastened off yet: a wider brim goes on
    widened = more is not None and getattr(command, "key", "") == "brim_mm"
    return (*turn, e.RoundOffered(more)) if more is not None and widened else turn
