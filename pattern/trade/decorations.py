"""Decorations that a maker puts on, and the steps in which each is called. Common practice, no
source.
"""

from __future__ import annotations

from enum import StrEnum


class Decoration(StrEnum):
    """Something that is put on a piece when its rounds are done, or nearly."""

    RIBBON = "ribbon"
    """A ribbon, or a band of cloth, around the lower edge of the sides."""
    LACE = "lace"
    EDGING = "edging"
    """An edging, bought or crocheted apart, around the last round."""
    FLOWER = "flower"
    """A flower, a bow, a button: anything small that sits in one place."""
    STIFFENING = "stiffening"


STEPS: dict[Decoration, tuple[str, ...]] = {
    Decoration.RIBBON: ("cut", "turn", "pin", "tack", "join", "wear"),
    Decoration.LACE: ("cut", "shrink", "pin", "tack", "join", "wear"),
    Decoration.EDGING: ("cut", "pin", "tack", "join", "wear"),
    Decoration.FLOWER: ("place", "back", "middle", "edge", "tug", "wear"),
    Decoration.STIFFENING: ("choose", "mix", "soak", "shape", "wear"),
}
"""Names of the steps, in the order in which they are called."""
GATHERED = 1.5
"""Length of a gathered lace, in lengths of the edge that it goes along."""
EVERY_MM = 20.0
"""From one tacking stitch to the next: about a finger's width."""
