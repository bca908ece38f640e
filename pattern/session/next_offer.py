"""The round that a turn makes the next one, and the stages in which one is offered."""

from __future__ import annotations

from pattern.plan.next_round import next_round, recounted
from pattern.plan.part_rules import RULES
from pattern.plan.sides import to_rework
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.folding import fold
from pattern.session.refusals import Reason, Refused
from pattern.session.state import State
from pattern.shape.part_kinds import PART_STAGES
from pattern.shape.rounds import Round, Stage

Turn = tuple[e.Event, ...]
WORKING = PART_STAGES | {Stage.RING}
"""Stages in which a round is offered."""


def refused(state: State, command: c.Command, reason: Reason, **detail: str | float) -> Refused:
    """The refusal of a command in a state."""
    return Refused(reason, state.stage, command, detail)


def refuse_outside_work(state: State, command: c.Command) -> None:
    """Raises: Refused unless a round is offered."""
    if state.stage is Stage.SETUP:
        raise refused(state, command, Reason.STILL_SETUP)
    if state.stage not in WORKING:
        raise refused(state, command, Reason.NOT_HERE)


def reopened(state: State, turn: Turn) -> Turn:
    """The turn, with one more round where the last one turns out not to fit.

    Until the yarn is cut, and not where the maker ended the piece before its plan was worked.
    """
    if state.stage is not Stage.FINISHING or state.step or next_round(state.piece) is not None:
        return turn
    more = next_round(fold(state, turn).piece)
    return turn if more is None else (*turn, e.RoundOffered(more))


def _reworked(state: State, turn: Turn) -> Turn:
    """The turn, with the last rounds of the sides ripped back where it shows that they misfit."""
    if not _shows_more(state, turn):
        return turn
    after = fold(state, turn)
    rounds = 0 if after.sets or after.step or after.doubt else to_rework(after.piece)
    return (*turn, e.RoundsTakenBack(rounds, ripped=True)) if rounds else turn


def _shows_more(state: State, turn: Turn) -> bool:
    """Whether the turn has a reading, or a count that is not as called: one that is as called shows
    nothing new, and would have the same rounds ripped back again and again.
    """
    for number, event in enumerate(turn):
        if isinstance(event, e.ReadingTaken):
            return True
        if isinstance(event, e.CountTaken):
            return event.count != fold(state, turn[:number]).piece.stitches
    return False


def offered_after(state: State, turn: Turn) -> Turn:
    """The turn, followed by the round that it makes the next one, where that is another."""
    turn = _reworked(state, turn)
    after = fold(state, turn)
    if after.stage not in WORKING:
        return turn
    offered: Round | None
    if after.sets and after.offered is not None:
        same = recounted(after.piece, after.offered)
        offered = RULES[same.stage].cut(after.piece, same, min(after.sets, same.sets))
    else:
        offered = next_round(after.piece)
    if offered is None:
        return (*turn, e.StageStarted(Stage.FINISHING))
    if offered == after.offered:
        return turn
    return (*turn, e.RoundOffered(offered, min(after.sets, offered.sets)))
