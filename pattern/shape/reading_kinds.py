"""Kinds of reading, and the ways a fabric can lie."""

from __future__ import annotations

from enum import StrEnum


class Kind(StrEnum):
    """The measurement that a reading takes."""

    ACROSS = "across"
    CORNERS = "corners"
    """From a corner across the middle of a crown with stacked increases, to the opposite corner or
    side."""
    AROUND = "around"
    ALONG = "along"
    """Along a number of stitches at the edge."""
    DEPTH = "depth"
    """From the centre down, along the fabric."""
    BRIM = "brim"
    """Width of the brim, along the fabric."""
    LOOK = "look"
    """Without a tape: how the fabric lies, see Look."""
    FIT = "fit"
    """Tried on: how it sits around the head."""
    PINCH = "pinch"
    """Tried on: how much of it can be pinched, where it is far too wide."""
    EDGE = "edge"
    """Tried on: where its edge ends on the face."""
    WORN = "worn"
    """Tried on: how its brim falls."""


BY_TAPE: dict[Kind, Kind] = {
    Kind.FIT: Kind.AROUND,
    Kind.PINCH: Kind.AROUND,
    Kind.EDGE: Kind.DEPTH,
    Kind.WORN: Kind.BRIM,
}
"""Readings for which the piece is tried on, and those of the tape that they stand for."""
TAPE = frozenset(Kind) - {Kind.LOOK, *BY_TAPE}
"""Readings that are lengths."""


class Look(StrEnum):
    """How the fabric lies."""

    FLAT = "flat"
    RIPPLES = "ripples"
    CUPS = "cups"
