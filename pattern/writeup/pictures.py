"""All pictures of a piece."""

from __future__ import annotations

from pattern.forecast.rest_of_piece import planned_end
from pattern.session.state import State
from pattern.writeup.charts import brim_fullness, gauge_over_rounds
from pattern.writeup.crown_chart import crown
from pattern.writeup.drawing import Picture
from pattern.writeup.side_view import profile


def pictures(state: State) -> tuple[Picture, ...]:
    """All pictures with something to show; rounds not made yet are drawn as planned now."""
    end, finished = planned_end(state), state.piece.finished
    found = [profile(end, finished), crown(end, finished)]
    if finished:
        found += [gauge_over_rounds(state, 0), gauge_over_rounds(state, 1)]
    brim = brim_fullness(end, finished)
    return (*found, brim) if brim is not None else tuple(found)
