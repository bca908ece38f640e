"""Parts that widen or narrow as they go: domes, tapers and balls follow their profile.

A dome and a ball are worked from the centre, so the round that comes next has the girth of the
profile there; a taper goes in equal steps from the stitches it begins with to those it ends with.
"""

from __future__ import annotations

import math

from pattern.plan.crown import more_increases
from pattern.plan.piece import Piece, depth_at, end_girth_mm, girth_of, left_in, target
from pattern.plan.sides import FITS_MM
from pattern.shape.easy import easiest
from pattern.shape.rounds import Stage

SLACK = 3
"""A change may be a third of itself off, where that is easier to say; the next round makes it up;
our choice."""
FEWEST_BETWEEN = 3
"""No more than one stitch in so many is decreased in a round; our choice."""


def wanted_stitches(piece: Piece, part: int) -> float:
    """Stitches that the next round is to have, as a real number."""
    if piece.stretches[part].stage is Stage.TAPER:
        return _on_taper(piece, part)
    return _on_profile(piece, part)


def _on_profile(piece: Piece, part: int) -> float:
    stretch = piece.stretches[part].part
    along = depth_at(piece, piece.finished + 1).mean
    radius = stretch.outward_mm(min(max(along, 0.0), stretch.length_mm))
    return math.tau * radius / piece.gauge.width_mm - piece.miscount.mean


def _on_taper(piece: Piece, part: int) -> float:
    """On the straight way from the stitches that it begins with to those that it ends with."""
    done, left = piece.rounds_in(part), max(left_in(piece, part).mean, 1.0)
    begun = piece.edge_stitches if done else piece.stitches
    return begun + (target(piece, part) - begun) * (done + 1) / (done + left)


def sloping_change(piece: Piece, part: int) -> int:
    """Stitches that the next round adds, or takes out where it is below 0."""
    due = wanted_stitches(piece, part) - piece.stitches
    missing = target(piece, part) - piece.stitches
    if piece.stretches[part].stage is Stage.TAPER:
        return _taper_change(piece, part, due, missing)
    if piece.finished < 4:  # the ring and what follows it as in any crown
        return min(piece.settings.increases, max(missing, 0), piece.stitches)
    most, least = min(more_increases(piece), piece.stitches), -(piece.stitches // FEWEST_BETWEEN)
    if piece.stretches[part].stage is Stage.DOME and left_in(piece, part).mean < 1.5:
        return max(least, min(most, missing))
    due = min(max(min(due, most), least), max(missing, 0))
    return easiest(piece.stitches, due, abs(due) / SLACK) if abs(due) >= 1.0 else 0


def _taper_change(piece: Piece, part: int, due: float, missing: int) -> int:
    """A whole set of changes once half of it is due; in the last round all that is missing."""
    most = piece.stitches if missing > 0 else piece.stitches // FEWEST_BETWEEN
    if left_in(piece, part).mean < 1.5:
        return max(-most, min(most, missing))
    step = min(float(piece.settings.increases), abs(missing))
    if due * missing <= 0 or abs(due) < step / 2:
        return 0
    size = min(max(abs(due), step), abs(missing), most)
    return easiest(piece.stitches, math.copysign(size, missing), size / (2 * SLACK))


def sloping_over(piece: Piece, part: int) -> bool:
    """Whether the part is as long as it should be; all but a ball also have to fit at their end, as
    far as one more round can bring them nearer.
    """
    left = left_in(piece, part).mean
    if piece.stretches[part].stage is Stage.BALL:
        return left < 0.5 or (left < piece.finished and piece.stitches <= piece.settings.increases)
    if not piece.rounds_in(part) or left >= 0.5:
        return False
    off = end_girth_mm(piece, part) - girth_of(piece, piece.stitches).mean
    return abs(off) <= max(FITS_MM, piece.gauge.width_mm) or not sloping_change(piece, part)
