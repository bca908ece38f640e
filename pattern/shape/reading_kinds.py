"""Kinds of reading, and the ways in which a fabric may lie."""

from __future__ import annotations

from enum import StrEnum


class Kind(StrEnum):
    """What a reading measures."""

    ACROSS = "across"
    CORNERS = "corners"
    """From a corner across the middle, of a crown whose increases are stacked: to the corner, or
    the side, that lies there."""
    AROUND = "around"
    ALONG = "along"
    """A number of stitches along the edge."""
    DEPTH = "depth"
    """From the centre down along the cloth."""
    BRIM = "brim"
    """Width of the brim along the cloth."""
    LOOK = "look"
    """No tape: how the fabric lies, see Look."""


class Look(StrEnum):
    """How the fabric lies."""

    FLAT = "flat"
    RIPPLES = "ripples"
    CUPS = "cups"
