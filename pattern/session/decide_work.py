"""Decisions about the rounds: worked, taken out, counted, looked at, ended."""

from __future__ import annotations

from collections.abc import Callable

from pattern.plan.counting import counts_offered
from pattern.plan.early_end import end_now
from pattern.plan.next_round import next_part, rounds_left
from pattern.session import commands as c
from pattern.session import decide_readings
from pattern.session import events as e
from pattern.session.folding import Decided, Turn, Unfolding, unfolding
from pattern.session.next_offer import (
    offered_after,
    refuse_outside_work,
    refused,
    reopened,
)
from pattern.session.reading_due import reading_due
from pattern.session.refusals import Reason
from pattern.session.state import State
from pattern.shape.part_kinds import Shaping
from pattern.shape.rounds import Stage


def round_done(state: State, command: c.Next | c.GoOn) -> Decided:
    """The offered round, or step, is done. Raises: Refused when there is none to be done."""
    if state.doubt is not None:
        raise refused(state, command, Reason.DOUBT_OPEN)
    if state.stage is Stage.SETUP:
        raise refused(state, command, Reason.STILL_SETUP)
    if state.stage is Stage.DONE:
        raise refused(state, command, Reason.ALL_DONE)
    if state.stage is Stage.FINISHING:  # a step that waited for a reading is not called yet
        return (e.StepDone() if state.want is None else e.ReadingSkipped(),)
    return _measured_when_due(offered_after(unfolding(state, e.RoundFinished())))


def _measured_when_due(so_far: Unfolding) -> Unfolding:
    """The turn in which a round was finished, with the reading that is worth taking now."""
    want = reading_due(so_far.now) if so_far.now.doubt is None else None
    return so_far.then(e.ReadingWanted(want.kind, want.stitches)) if want else so_far


def back(state: State, command: c.Back) -> Turn:
    """One step back, of whatever was last. Raises: Refused at the beginning."""
    if state.stage is Stage.SETUP:
        if not state.answered:
            raise refused(state, command, Reason.NO_ROUND_BACK)
        return (e.QuestionReopened(),)
    if state.sets:
        return (e.SetsWorked(state.sets - 1),)
    if state.step:
        return (e.StepTakenBack(),)
    if not state.piece.finished:
        raise refused(state, command, Reason.NO_ROUND_BACK)
    return (e.RoundsTakenBack(1, ripped=False),)


def sets(state: State, command: c.Sets) -> Unfolding:
    """Repeats worked in the offered round. Raises: Refused for more than it has."""
    offered = state.offered
    if offered is None or not offered.sets:
        raise refused(state, command, Reason.NO_SETS)
    total = state.sets + command.count if command.more else command.count
    if not 0 <= total <= offered.sets:
        raise refused(state, command, Reason.TOO_MANY_SETS, most=offered.sets)
    so_far = unfolding(state, e.SetsWorked(total))
    if want := decide_readings.wanted_within(so_far.now):
        return so_far.then(e.ReadingWanted(want.kind, want.stitches))
    return so_far


def ripped(state: State, command: c.RippedBack) -> Unfolding:
    """Rounds taken out. Raises: Refused for more than are worked."""
    if not 0 < command.rounds <= state.piece.finished:
        raise refused(state, command, Reason.MORE_THAN_WORKED, worked=state.piece.finished)
    return offered_after(unfolding(state, e.RoundsTakenBack(command.rounds, ripped=True)))


def undo(state: State, command: c.Undo) -> Turn:
    """The last turn taken back. Raises: Refused when there is none."""
    if state.undo is None:
        raise refused(state, command, Reason.NOTHING_TO_UNDO)
    return (e.Undone(),)


def measured(state: State, command: c.Measured) -> Unfolding:
    """A reading, and the round that follows from it. Raises: Refused, see tape."""
    return reopened(offered_after(unfolding(state, *decide_readings.measured(state, command))))


def counted(state: State, command: c.Counted) -> Unfolding:
    """A count that can only be the offered round's says that this round is done, too."""
    ahead = counts_offered(state.offered, state.piece.stitches, command.count)
    so_far = unfolding(state, e.RoundFinished()) if ahead else unfolding(state)
    so_far = so_far.then(*decide_readings.counted(so_far.now, command))
    so_far = reopened(offered_after(so_far))
    return _measured_when_due(so_far) if ahead else so_far


def counted_in(state: State, command: c.CountedIn) -> Turn:
    """Only an answer. Raises: Refused for a count or sets that the round in work cannot have."""
    refuse_outside_work(state, command)
    offered = state.offered
    if offered is None or not offered.before:
        raise refused(state, command, Reason.TOO_EARLY)
    if command.sets is not None and not 0 < command.sets <= offered.sets:
        if not offered.sets:
            raise refused(state, command, Reason.NO_SETS)
        raise refused(state, command, Reason.TOO_MANY_SETS, most=offered.sets)
    if not 0 < command.count <= 2 * offered.after:
        raise refused(state, command, Reason.COUNT_IMPOSSIBLE, most=2 * offered.after)
    return ()


def lies(state: State, command: c.Lies) -> Decided:
    """How the fabric lies; sides turn down, which is only said. Raises: Refused where that says
    nothing yet."""
    if command.look is c.Look.CUPS and state.piece.shaping.straight:
        return ()
    if not state.piece.shaping.by_look or state.piece.finished < 2:
        raise refused(state, command, Reason.TOO_EARLY)
    return offered_after(unfolding(state, e.LookTaken(command.look)))


_LEADS_TO: dict[type, Callable[[Shaping], bool]] = {
    c.StartSides: lambda shaping: shaping.hangs,
    c.StartBrim: lambda shaping: shaping.flared,
    c.StartNext: lambda _shaping: True,
}
"""Whether the next part is what each command can mean."""


def start(state: State, command: c.StartSides | c.StartBrim | c.StartNext) -> Unfolding:
    """The part in work is done, and the next begins, after a question where that is early.

    A brim that is wanted before the sides asks about those. Raises: Refused where it cannot.
    """
    refuse_outside_work(state, command)
    here, parts = next_part(state.piece) or 0, state.piece.stretches
    there = parts[here + 1] if here + 1 < len(parts) else None
    brim = isinstance(command, c.StartBrim)
    if brim and not parts[-1].shaping.flared:
        if "brim_mm" not in state.settings.shape.asked:
            raise refused(state, command, Reason.NOT_OF_SHAPE, key="brim_mm")
        raise refused(state, command, Reason.NO_BRIM)
    sooner = brim and here + 2 < len(parts)
    within = state.sets and not parts[here].shaping.opens
    leads = there is not None and (sooner or _LEADS_TO[type(command)](there.shaping))
    if there is None or not leads or within:
        raise refused(state, command, Reason.NOT_HERE)
    if not state.piece.rounds_in(here):
        raise refused(state, command, Reason.TOO_EARLY)
    if sooner or end_now(state.piece, here, state.piece.stitches + state.sets).much_off:
        return unfolding(state, e.StartDoubted(there.stage))
    return started(state, there.stage)


def started(state: State, there: Stage) -> Unfolding:
    """The next part begins, after the repeats that are worked of the round."""
    so_far = unfolding(state, e.StageStarted(there))
    if state.sets and state.offered is not None:
        return so_far.then(e.RoundOffered(state.offered.cut_after(state.sets), state.sets))
    return offered_after(so_far)


def finish(state: State, command: c.FinishNow) -> Turn:
    """The piece ends here, after a question while rounds are planned. Raises: Refused."""
    refuse_outside_work(state, command)
    if not state.piece.finished:
        raise refused(state, command, Reason.TOO_EARLY)
    if rounds_left(state.piece, state.offered) > 0:
        return (e.FinishDoubted(),)
    return (e.StageStarted(Stage.FINISHING),)
