"""The reading that is due in a session when a round was just finished."""

from __future__ import annotations

from pattern.plan.asking import Asking
from pattern.plan.next_reading import wanted
from pattern.plan.readings import Want
from pattern.session import decide_readings
from pattern.session.next_offer import WORKING
from pattern.session.state import State
from pattern.shape.rounds import Stage


def reading_due(after: State) -> Want | None:
    """The reading that is worth taking now; `after` is the state with the round finished."""
    ended = after.stage is Stage.FINISHING and not after.step
    if after.stage not in WORKING and not ended:
        return None
    since = after.piece.finished - after.asked_round
    left_out = _left_out(after)
    asking = Asking(
        since, not after.seen, after.asks, after.asks_in_all, after.slips_found, left_out
    )
    return decide_readings.rechecked(after) or wanted(after.piece, asking)


def _left_out(after: State) -> bool:
    """Whether the last reading asked for was not taken; before the end it is asked anew."""
    taken = after.taken is not None and after.taken.after_round >= after.asked_round
    return after.asked_round > 0 and not taken and after.stage is not Stage.FINISHING
