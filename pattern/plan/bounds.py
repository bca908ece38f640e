"""Upper bounds of the rounds that a piece can still take: they follow from its lengths, its girths
and the gauge.
"""

from __future__ import annotations

import math

from pattern.plan.brim import brim_total
from pattern.plan.piece import Piece, left_in, target
from pattern.shape.rounds import Stage

_TO_DOUBLE = {Stage.TAPER: 2, Stage.SIDES: 7}
"""Rounds in which the stitches can at least be doubled or halved: a taper takes out one in
FEWEST_BETWEEN a round, sides change one in CORRECT_AT_MOST."""
_BY_ONES = 20
"""Rounds in which a change of so few stitches that each round makes but one of them is done: twice
CORRECT_AT_MOST."""


def most_rounds(piece: Piece) -> int:
    """Upper bound of the rounds left when they are worked as called and nothing is measured.

    Each part takes the rounds of its length, one more, and those that change its stitches.
    """
    parts = range(piece.index, len(piece.stretches))
    return 1 + sum(_of_length(piece, part) + _of_changes(piece, part) for part in parts)


def _of_length(piece: Piece, part: int) -> int:
    if piece.stretches[part].stage is Stage.BRIM:
        return max(brim_total(piece) - piece.brim_rounds, 0) + 1
    return max(math.ceil(left_in(piece, part, piece.finished).mean), 0) + 1


def _of_changes(piece: Piece, part: int) -> int:
    """Rounds from the stitches that the part begins with to those that it ends with."""
    stage, to = piece.stretches[part].stage, target(piece, part)
    begun = piece.stitches if part == piece.index else target(piece, part - 1)
    missing = abs(to - begun)
    doublings = max(to, begun).bit_length()
    if stage in {Stage.BRIM, Stage.BALL}:
        return 0
    if stage in _TO_DOUBLE:
        return min(missing, _TO_DOUBLE[stage] * doublings + _BY_ONES) + 2
    return math.ceil(missing / piece.settings.increases) + doublings
