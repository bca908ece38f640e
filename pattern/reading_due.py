"""The reading that is due in a session when a round was just finished."""

from __future__ import annotations

from pattern import tape
from pattern.offering import WORKING
from pattern.plan.asking import Asking, wanted
from pattern.plan.readings import Want
from pattern.shape.rounds import Stage
from pattern.state import State


def reading_due(after: State) -> Want | None:
    """The reading that is worth taking now; `after` is the state with the round finished."""
    ended = after.stage is Stage.FINISHING and not after.step
    if after.stage not in WORKING and not ended:
        return None
    since = after.piece.finished - after.asked_round
    asking = Asking(since, not after.seen, after.asks, after.asks_in_all,
                    after.slips_found)  # fmt: skip
    return tape.rechecked(after) or wanted(after.piece, asking)
