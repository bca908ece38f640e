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
    )
    means = after.means
    again = by_means(after.piece, asking, decide_readings.rechecked(after), means)
    return again or wanted(after.piece, asking, means)
