"""Parts that widen or narrow as they go: domes, tapers and balls follow their profile.

A dome and a ball are worked from the centre, so the round that comes next has the girth of the
profile there; a taper goes in equal steps from the stitches it begins with to those it ends with.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from pattern.plan.crown import more_increases
from pattern.plan.part_ends import end_girth_mm, target
from pattern.plan.piece import Piece, depth_at, girth_of, left_in
from pattern.plan.sides import FITS_MM
from pattern.shape.easy import easiest

SLACK = 3
"""A change may be a third of itself off, where that is easier to say; the next round makes it up;
our choice."""
FEWEST_BETWEEN = 3
"""No more than one stitch in so many is decreased in a round; our choice."""


def _on_profile(piece: Piece, part: int) -> float:
    """Stitches that the next round is to have, as a real number, by the profile."""
    stretch = piece.stretches[part].part
    along = depth_at(piece, piece.finished + 1).mean
    radius = stretch.outward_mm(min(max(along, 0.0), stretch.length_mm))
    return math.tau * radius / piece.gauge.width_mm - piece.miscount.mean


def _on_taper(piece: Piece, part: int) -> float:
    """The same on the straight way from the stitches that it begins with to those that it ends
    with.
    """
    done, left = piece.rounds_in(part), max(left_in(piece, part).mean, 1.0)
    begun = piece.edge_stitches if done else piece.stitches
    return begun + (target(piece, part) - begun) * (done + 1) / (done + left)


def dome_change(piece: Piece, part: int) -> int:
    """Stitches that the next round of a dome adds: in the last round all that are missing."""
    if piece.finished < 4 or left_in(piece, part).mean >= 1.5:
        return ball_change(piece, part)
    most, least = _most_and_least(piece)
    return max(least, min(most, target(piece, part) - piece.stitches))


def ball_change(piece: Piece, part: int) -> int:
    """Stitches that the next round adds, or takes out where it is below 0, to stay on the profile.

    The ring and what follows it are as in any crown.
    """
    missing = target(piece, part) - piece.stitches
    if piece.finished < 4:
        return min(piece.settings.increases, max(missing, 0), piece.stitches)
    most, least = _most_and_least(piece)
    due = _on_profile(piece, part) - piece.stitches
    due = min(max(min(due, most), least), max(missing, 0))
    return easiest(piece.stitches, due, abs(due) / SLACK) if abs(due) >= 1.0 else 0


def _most_and_least(piece: Piece) -> tuple[int, int]:
    """Bounds of what a round may add; the lower one is below 0."""
    return min(more_increases(piece), piece.stitches), -(piece.stitches // FEWEST_BETWEEN)


def taper_change(piece: Piece, part: int) -> int:
    """A whole set of changes once half of it is due; in the last round all that is missing."""
    due, missing = _on_taper(piece, part) - piece.stitches, target(piece, part) - piece.stitches
    most = piece.stitches if missing > 0 else piece.stitches // FEWEST_BETWEEN
    if left_in(piece, part).mean < 1.5:
        return max(-most, min(most, missing))
    step = min(float(piece.settings.increases), abs(missing))
    if due * missing <= 0 or abs(due) < step / 2:
        return 0
    size = min(max(abs(due), step), abs(missing), most)
    return easiest(piece.stitches, math.copysign(size, missing), size / (2 * SLACK))


def ball_over(piece: Piece, part: int) -> bool:
    """Whether the ball is as long as it should be, or closed in its second half."""
    left = left_in(piece, part).mean
    return left < 0.5 or (left < piece.finished and piece.stitches <= piece.settings.increases)


def dome_over(piece: Piece, part: int) -> bool:
    """Whether the dome is as long as it should be, and fits; see taper_over."""
    return _ended(piece, part, dome_change)


def taper_over(piece: Piece, part: int) -> bool:
    """Whether the part is as long as it should be, and fits at its end as far as one more round can
    bring it nearer.
    """
    return _ended(piece, part, taper_change)


def _ended(piece: Piece, part: int, change: Callable[[Piece, int], int]) -> bool:
    if not piece.rounds_in(part) or left_in(piece, part).mean >= 0.5:
        return False
    off = end_girth_mm(piece, part) - girth_of(piece, piece.stitches).mean
    return abs(off) <= max(FITS_MM, piece.gauge.width_mm) or not change(piece, part)
