"""A part that is to end now, though it is still too narrow or not deep enough."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.plan.piece import Piece, depth_at, girth_of, left_in

NARROWER = 0.2
"""A part that is to end so much too narrow is asked about, or too wide where it narrows; our
choice: a hand's width of a head."""
SHALLOWER = 0.15
"""The same of its depth; our choice: three centimetres of a usual hat."""


@dataclass(frozen=True, slots=True)
class EndNow:
    """The size of a part that would end now, and the one it should have."""

    now_mm: float
    wanted_mm: float
    around: bool
    """Whether it is the distance around the edge; else the depth, or the length of the part."""
    narrows: bool = False
    """Whether it comes from a wider edge."""

    @property
    def lacks_mm(self) -> float:
        """How much it would still change; below 0 where it is past its end."""
        return (self.now_mm - self.wanted_mm) if self.narrows else (self.wanted_mm - self.now_mm)

    @property
    def much_off(self) -> bool:
        """Whether it is so much too early that it is asked about."""
        return self.lacks_mm > (NARROWER if self.around else SHALLOWER) * self.wanted_mm


def end_now(piece: Piece, part: int, stitches: int) -> EndNow:
    """The part ended now, with so many stitches in its last round."""
    stretch = piece.stretches[part]
    if part and stretch.end_depth_mm is not None:
        depth_mm = depth_at(piece, piece.finished).mean
        return EndNow(depth_mm, stretch.end_depth_mm, around=False)
    if stretch.shaping.straight:
        length_mm = stretch.part.length_mm
        left_mm = left_in(piece, part).mean * piece.gauge.height_mm
        return EndNow(length_mm - left_mm, length_mm, around=False)
    here_mm, end_mm = girth_of(piece, stitches).mean, stretch.end_girth_mm
    narrows = part > 0 and end_mm < girth_of(piece, piece.edge_stitches).mean
    return EndNow(here_mm, end_mm, around=True, narrows=narrows)
