"""Upper bounds of the rounds that a piece can still take: they follow from its lengths, its girths
and the gauge.
"""

from __future__ import annotations

import math

from pattern.plan.brim import brim_total
from pattern.plan.part_ends import target
from pattern.plan.piece import Piece, left_in

_TAPER_DOUBLES, _SIDES_DOUBLE = 2, 7
"""Rounds in which the stitches can at least be doubled or halved: a taper takes out one in
FEWEST_BETWEEN a round, sides change one in CORRECT_AT_MOST."""
_BY_ONES = 20
"""Rounds in which a change of so few stitches that each round makes but one of them is done: twice
CORRECT_AT_MOST."""


def of_opening(piece: Piece, part: int) -> int:
    """Upper bound of the rounds left in a part that widens from the centre to its edge."""
    to, begun = _stitches(piece, part)
    more = math.ceil(abs(to - begun) / piece.settings.increases)
    return of_ball(piece, part) + more + max(to, begun).bit_length()


def _stitches(piece: Piece, part: int) -> tuple[int, int]:
    """Stitches that the part ends with, and those that it begins with."""
    begun = piece.stitches if part == piece.index else target(piece, part - 1)
    return target(piece, part), begun


def _of_changes(piece: Piece, part: int, to_double: int) -> int:
    """Rounds from the stitches that the part begins with to those that it ends with."""
    to, begun = _stitches(piece, part)
    return min(abs(to - begun), to_double * max(to, begun).bit_length() + _BY_ONES) + 2


def of_sides(piece: Piece, part: int) -> int:
    """Upper bound of the rounds left in straight sides."""
    return of_ball(piece, part) + _of_changes(piece, part, _SIDES_DOUBLE)


def of_taper(piece: Piece, part: int) -> int:
    """Upper bound of the rounds left in a taper."""
    return of_ball(piece, part) + _of_changes(piece, part, _TAPER_DOUBLES)


def of_ball(piece: Piece, part: int) -> int:
    """Upper bound of the rounds left in a ball: those of its length."""
    return max(math.ceil(left_in(piece, part, piece.finished).mean), 0) + 1


def of_brim(piece: Piece, _part: int) -> int:
    """Upper bound of the rounds left in a brim."""
    return max(brim_total(piece) - piece.brim_rounds, 0) + 1
