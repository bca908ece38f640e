"""How hard each reading is for two hands and no eyes, by where it is taken.

Common practice, no source: 1 is a tape that lies by itself and is read once. The kinds of a table
are those that such a part takes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from pattern.plan.piece import Piece
from pattern.plan.readings import Want, expected, girth_finished, learned, reading_of
from pattern.shape.reading_kinds import Kind

Effort = Mapping[Kind, float]
"""Kinds of reading, each with how hard it is."""

ON_DISC: Effort = {
    Kind.ACROSS: 1.0,  # the tape lies on the flat crown
    Kind.CORNERS: 1.2,  # and the corners are felt for
    Kind.ALONG: 2.0,  # stitches are counted by touch, along a curve
    Kind.AROUND: 3.0,  # the tape stands on its edge, and slips from a flat rim
    Kind.DEPTH: 1.5,  # the centre is felt for
}
EVEN: Effort = dict.fromkeys(ON_DISC, 1.0)
"""The same where the fit is worth any effort."""
ON_SLOPE: Effort = {Kind.AROUND: 1.5, Kind.ALONG: 2.0, Kind.DEPTH: 1.5}
"""The edge is laid flat where the piece is deep enough for it."""
ON_SIDES: Effort = {Kind.AROUND: 1.0, Kind.ALONG: 1.8, Kind.DEPTH: 1.5}
"""The tape lies around the tube, or the tube flat."""
ON_BRIM: Effort = {Kind.BRIM: 1.0, Kind.AROUND: 3.0, Kind.ALONG: 2.0}


def narrowed_mm(piece: Piece, want: Want, effort: Effort) -> float:
    """Girth in mm that a reading makes sure of, for each unit of its effort.

    That is by how much it narrows two standard deviations of the finished girth, where it comes out
    as expected.
    """
    blank = reading_of(piece, want.kind, 0.0, 6.35, 0.0, stitches=want.stitches)
    after = learned(piece, replace(blank, value_mm=expected(piece, blank).mean))
    narrower = girth_finished(piece).sd - girth_finished(after).sd
    return 2 * narrower / effort[want.kind]
