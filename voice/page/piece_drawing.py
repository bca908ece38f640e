"""The piece from the side, filled up to where it is."""

from __future__ import annotations

from functools import lru_cache

from pattern.plan.piece import depth_at
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.shape.settings import Settings
from pattern.writeup.drawing import LARGE, Canvas, Picture
from pattern.writeup.finished_view import View, arc, outlines

_LINES = 26
"""Lines that a whole piece is filled with; more run together where it turns away; our choice."""


@lru_cache(maxsize=4)
def _view(settings: Settings) -> View:
    """The view of a piece; looked up, since it is the same from round to round."""
    return View.of(settings, LARGE, 0)


def piece_drawing(state: State) -> Picture | None:
    """The piece as it is to be, the part that is worked filled; None before it is begun."""
    if state.stage is Stage.SETUP:
        return None
    view, piece = _view(state.piece.settings), state.piece
    whole = view.rings[-1].ring.along_mm
    ended = state.offered is None
    made_mm = whole if ended else depth_at(piece, piece.finished).mean if piece.finished else 0.0
    share = min(made_mm / whole, 1.0)
    canvas = Canvas("The piece from the side", _words(share), LARGE, width=view.width)
    for line in range(1, _LINES + 1):
        along_mm = whole * line / _LINES
        if along_mm <= made_mm:
            ring = view.ring_at(along_mm)
            canvas.path(arc(view, ring, ring.sine), width=3.5)
    if 0 < made_mm < whole:
        ring = view.ring_at(made_mm)
        canvas.path(arc(view, ring, ring.sine), width=5)
    for points in outlines(view):
        canvas.curve(points, width=5)
    canvas.path(arc(view, view.rings[-1], view.rings[-1].sine), width=5)
    return canvas.picture(view.foot + 10)


def _words(share: float) -> str:
    return f"About {round(100 * share)} percent of the way from the middle to the edge is worked."
