"""Straight sides: how they are corrected until they fit, and when they are deep enough."""

from __future__ import annotations

from pattern.gauge import Estimate
from pattern.piece import Piece, girth_of, left_in
from pattern.rounds import Stage

FIT_STEPS = 0.5
"""Sides off the wanted girth by more than this share of a stitch are corrected by whole stitches:
worked out, half a stitch is the least that a correction can better."""
FITS_MM = 10.0
"""A hat within this of the wanted girth fits; our choice. Sides further off get one more round,
which corrects them, although they are deep enough."""
CORRECT_AT_MOST = 10
"""A correction changes at most one stitch in so many in a round, so that it does not pucker."""


def correction(piece: Piece) -> int:
    """Stitches to add or take out in the next round of the sides, so that they fit."""
    if not piece.sides_known:
        return 0
    width, off = piece.gauge.width_mm, off_mm(piece)
    if abs(off) <= FIT_STEPS * width:
        return 0
    most = max(piece.stitches // CORRECT_AT_MOST, 1)
    return max(-most, min(most, round(off / width)))


def off_mm(piece: Piece) -> float:
    """What the girth lacks (below 0: has too much) of that at the end of this part."""
    return piece.stretch.end_girth_mm - girth_of(piece, piece.stitches).mean


def sides_change(piece: Piece) -> int:
    """The change of the next round of the sides: a correction, or one that takes a slip back.

    Where the tape knows the girth it says all; and who began the sides early wants the stitches
    that there are.
    """
    if piece.sides_known or piece.closed > piece.index:
        return correction(piece)
    most = max(piece.stitches // CORRECT_AT_MOST, 1)
    return max(-most, min(most, -piece.slip))


def sides_over(piece: Piece, part: int) -> bool:
    """Whether the sides are deep enough; those that misfit, or slipped, get one more round."""
    misfits = correction(piece) != 0 and abs(off_mm(piece)) > FITS_MM
    if not piece.sides_known:
        misfits = abs(piece.slip) * piece.gauge.width_mm > FITS_MM
    return piece.rounds_in(part) > 0 and left_in(piece, part).mean < 0.5 and not misfits


def sides_left(piece: Piece) -> Estimate:
    """Rounds until the sides that are worked, or come next, end; with their spread.

    From the rounds finished now, also where they do not begin yet and end at a depth.
    """
    sides = [part for part, stretch in enumerate(piece.stretches) if stretch.stage is Stage.SIDES]
    ahead = [part for part in sides if part >= piece.index] or sides[-1:]
    return left_in(piece, ahead[0]) if ahead else Estimate(0.0, 0.0)
