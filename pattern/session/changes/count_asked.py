"""The request for a count of the offered round, as a session remembers it."""

from __future__ import annotations

from dataclasses import replace

from pattern.plan.counting import CountsAsked, count_due
from pattern.session.state import State


def count_judged(state: State) -> State:
    """The state in which a count of the offered round is asked for where one is due.

    A round offered anew, or after a count of the one before it, is judged anew.
    """
    offered = state.offered
    if offered is None:
        return state
    again = state.to_count == offered.number
    times = state.counts_asked - again
    asked = CountsAsked(state.to_count, times, not again and state.count_left_out)
    if count_due(state.piece, offered, asked, slips=state.slips_found):
        return replace(state, to_count=offered.number, counts_asked=times + 1)
    return replace(state, to_count=0, counts_asked=times) if again else state
