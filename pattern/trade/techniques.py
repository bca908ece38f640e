"""What a maker may have explained: how a thing is done by hand, and what it is."""

from __future__ import annotations

from enum import StrEnum


class Technique(StrEnum):
    """A topic to be explained."""

    INCREASE = "increase"
    RING = "ring"
    FIRST_STITCH = "firststitch"
    MARKER = "marker"
    CHAIN = "chain"
    """The chain that begins a joined round, and whether it counts."""
    DECREASE = "decrease"
    LOOPS = "frontback"
    """Front and back loop of a stitch."""
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
    """Whether what is seen now is as it should be."""
    CORNERS = "corners"
