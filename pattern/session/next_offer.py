"""The round that a turn makes the next one, and the stages in which one is offered."""

from __future__ import annotations

from pattern.plan.next_round import next_round, recounted
from pattern.plan.part_rules import RULES
from pattern.plan.sides import to_rework
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.folding import Unfolding
from pattern.session.refusals import Reason, Refused
from pattern.session.state import State
from pattern.shape.part_kinds import PART_STAGES
from pattern.shape.rounds import Round, Stage

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


def reopened(so_far: Unfolding) -> Unfolding:
    """The turn, with one more round where the last one turns out not to fit.

    Until the yarn is cut, and not where the maker ended the piece before its plan was worked.
    """
    state = so_far.before
    if state.stage is not Stage.FINISHING or state.step or next_round(state.piece) is not None:
        return so_far
    more = next_round(so_far.now.piece)
    return so_far if more is None else so_far.then(e.RoundOffered(more))


def _reworked(so_far: Unfolding) -> Unfolding:
    """The turn, with the last rounds of the sides ripped back where it shows that they misfit."""
    if not _shows_more(so_far):
        return so_far
    now = so_far.now
    rounds = 0 if now.sets or now.step or now.doubt else to_rework(now.piece)
    return so_far.then(e.RoundsTakenBack(rounds, ripped=True)) if rounds else so_far


def _shows_more(so_far: Unfolding) -> bool:
    """Whether the turn has a reading, or a count that is not as called: one that is as called shows
    nothing new, and would have the same rounds ripped back again and again.
    """
    for event, state in zip(so_far.turn, so_far.states, strict=False):
        if isinstance(event, e.ReadingTaken):
            return True
        if isinstance(event, e.CountTaken):
            return event.count != state.piece.stitches
    return False


def offered_after(so_far: Unfolding, *, rips: bool = True) -> Unfolding:
    """The turn, followed by the round that it makes the next one, where that is another.

    Rounds that misfit are ripped back first, unless more is to be known before.
    """
    so_far = _reworked(so_far) if rips else so_far
    now = so_far.now
    if now.stage not in WORKING:
        return so_far
    offered: Round | None
    if now.sets and now.offered is not None:
        same = recounted(now.piece, now.offered)
        offered = RULES[same.stage].cut(now.piece, same, min(now.sets, same.sets))
    else:
        offered = next_round(now.piece)
    if offered is None:
        return so_far.then(e.StageStarted(Stage.FINISHING))
    if offered == now.offered:
        return so_far
    return so_far.then(e.RoundOffered(offered, min(now.sets, offered.sets)))
