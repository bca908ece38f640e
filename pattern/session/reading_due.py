"""The reading that is due in a session when a round was just finished."""

from __future__ import annotations

from pattern.plan.asking import Asking
from pattern.plan.asking_worn import by_means
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
    asking = Asking(
        since,
        not after.seen,
        after.asks,
        after.asks_in_all,
        after.piece.finished - after.edge_asked,
        after.slips_found,
        _left_out(after),
    )
    means = after.means
    again = by_means(after.piece, asking, decide_readings.rechecked(after), means)
    return again or wanted(after.piece, asking, means)


def _left_out(after: State) -> bool:
    """Whether the last reading asked for was not taken; before the end it is asked anew."""
    taken = after.taken is not None and after.taken.after_round >= after.asked_round
    return after.asked_round > 0 and not taken and after.stage is not Stage.FINISHING
