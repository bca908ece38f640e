"""Techniques and terms that a maker can ask to have explained."""

from __future__ import annotations

from enum import StrEnum


class Technique(StrEnum):
    """A topic that a maker can ask about."""

    INCREASE = "increase"
    RING = "ring"
    FIRST_STITCH = "firststitch"
    MARKER = "marker"
    CHAIN = "chain"
    """The chain that begins a joined round, and whether it counts as a stitch."""
    DECREASE = "decrease"
    LOOPS = "frontback"
    """The front and back loops of a stitch."""
    JOIN_BALL = "joinball"
    COLOUR = "colour"
    END_SPIRAL = "endspiral"
    DROPPED = "dropped"
    MISTAKE = "mistake"
    ACROSS = "measureacross"
    AROUND = "measurearound"
    TAPE_BY_TOUCH = "touchtape"
    GAUGE = "gauge"
    RIGHT_SIDE = "rightside"
    LEFT_HANDED = "lefthanded"
    COUNTING = "count"
    BRIM_WIDTH = "brimwidth"
    DEPTH = "howdeep"
    STARTING_CHAIN = "startchain"
    NORMAL = "normal"
    """Whether the piece looks as it should at this point."""
    CORNERS = "corners"
    TRY_ON = "tryon"
    """How a piece is tried on without losing the loop."""
