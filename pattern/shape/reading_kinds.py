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


class Look(StrEnum):
    """How the fabric lies."""

    FLAT = "flat"
    RIPPLES = "ripples"
    CUPS = "cups"
