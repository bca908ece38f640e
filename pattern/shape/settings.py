"""What the maker wants: the answers of the interview, each with a default."""

from __future__ import annotations

import math
from dataclasses import dataclass

from pattern.shape.catalogue import BRIMMED_HAT, Measure, Shape
from pattern.trade.fibres import Fibre
from pattern.trade.lengths import Unit
from pattern.trade.tables import HOOKS_MM, STITCHES, YARNS, Stitch, Terms, brim_for_shade_mm

Answered = str | float | int | bool | None
"""What an answer may be, in JSON's kinds."""


@dataclass(frozen=True, slots=True)
class Settings:
    """Answers so far; None means "not said", and the property of the same meaning fills it."""

    unit: Unit = Unit.INCH
    terms: Terms = Terms.US
    shape: Shape = BRIMMED_HAT
    head_mm: float | None = None
    """Girth of the head, level, above the ears."""
    across_mm: float | None = None
    """How wide it is across, for a shape that is not made for a head."""
    age_years: float | None = None
    """Age of the wearer, if it was said; cautions and the shade brim depend on it."""
    yarn: int = 4
    """Class of yarn weight, 0 to 7."""
    hook_mm: float | None = None
    stitch: Stitch = Stitch.SINGLE
    start: int | None = None
    """Stitches worked into the ring, and increases a round."""
    ease_mm: float = 0.0
    """Added to the head's girth; negative for a springy yarn that stretches."""
    depth_mm: float | None = None
    """Along the cloth, from the centre of the crown to the foot of the sides."""
    height_mm: float | None = None
    """How high the sides are by themselves, for a shape that is not made for a head."""
    brim_mm: float | None = None
    """Width of the brim along the cloth; 0 for none."""
    slope_deg: float | None = None
    """How far the brim falls below level."""
    fullness: float = 1.0
    """Brim girth over the girth that just lies at its slope."""
    joined: bool = False
    """Rounds closed with a slip stitch rather than a spiral."""
    stacked: bool = False
    """Increases above one another (corners) rather than spread."""
    ball_g: float | None = None
    """Weight of a ball, from its band."""
    ball_m: float | None = None
    """Length of the yarn in a ball, from its band."""
    fibre: Fibre | None = None
    """What the yarn is spun from, if it was said."""
    stash_g: float | None = None
    """Yarn that there was when it was said; what is left of it, the weighings tell."""

    @property
    def girth_mm(self) -> float:
        """Wanted girth: of the sides, or where the shape is widest if it is not for a head."""
        if not self.shape.for_head:
            return math.pi * self.across
        return (self.head_mm if self.head_mm is not None else DEFAULT_HEAD_MM) + self.ease_mm

    @property
    def across(self) -> float:
        """Width in mm of a shape that is not made for a head: said, or its usual one."""
        return self.across_mm if self.across_mm is not None else self.shape.usual_across_mm or 0.0

    @property
    def height(self) -> float:
        """Height of the sides in mm: said, or half of the width; our choice."""
        return self.height_mm if self.height_mm is not None else self.across / 2

    @property
    def slope(self) -> float:
        """Degrees that the brim falls below level: said, or the shape's usual ones."""
        if self.slope_deg is not None:
            return self.slope_deg
        brims = (part for part in self.shape.parts if part.shaping.flared)
        return next((part.slope_deg for part in brims if part.slope_deg is not None), 0.0)

    @property
    def hook(self) -> float:
        """Hook diameter in mm: said, or some sizes under the class, as hats are worked tighter.

        Three quarters of the class's middle hook: common practice, no source.
        """
        if self.hook_mm is not None:
            return self.hook_mm
        yarn = YARNS[self.yarn]
        wanted = 0.75 * (yarn.hook_least_mm + yarn.hook_most_mm) / 2
        return min(HOOKS_MM, key=lambda size: abs(size - wanted))

    @property
    def increases(self) -> int:
        """Stitches in the first round, and increases in each round of the crown."""
        return self.start or STITCHES[self.stitch].start

    @property
    def corner_to_side(self) -> bool:
        """Whether the crown has an odd number of corners: a side lies across from each."""
        return self.stacked and self.increases % 2 == 1

    @property
    def depth(self) -> float:
        """Depth of crown and sides in mm: said, or a third of the girth and 1 cm; for a child 0.3
        of the girth and not over 6 in.

        A third and 1 cm: common practice, no source. A child: worked out, so that median heads
        from birth to 5 years come to 4 to 6 in, the trade's range (common practice, no source).
        """
        if self.depth_mm is not None:
            return self.depth_mm
        if self.for_child:
            return min(0.3 * self.girth_mm, CHILD_DEEPEST_MM)
        return self.girth_mm / 3 + 10

    @property
    def for_child(self) -> bool:
        """Whether the wearer is a child by the age, or else by a head under any likely adult's."""
        if self.age_years is not None:
            return self.age_years < CHILD_UNDER_YEARS
        return self.head_mm is not None and self.head_mm < CHILD_UNDER_MM

    @property
    def brim(self) -> float:
        """Brim width in mm: said, or the width advised for shade; 0 for a shape without one."""
        lengths = [part.length for part in self.shape.parts if part.shaping.flared]
        if not lengths:
            return 0.0
        if isinstance(lengths[0], Measure):
            return lengths[0].of(self.girth_mm)
        return self.brim_mm if self.brim_mm is not None else brim_for_shade_mm(self.age_years)


DEFAULT_HEAD_MM = 567.5
"""Middle of the medians of men and women (ANSUR II: 57.4 and 56.1 cm)."""
CHILD_UNDER_YEARS = 12.0
"""From here heads are nearly grown; our choice."""
CHILD_UNDER_MM = 508.0
"""20 in: over 2.7 standard deviations under the mean of women (ANSUR II: 56.1, 1.94 cm)."""
CHILD_DEEPEST_MM = 152.4
"""6 in. Common practice, no source."""


QUESTIONS: tuple[str, ...] = (
    "unit",
    "terms",
    "head_mm",
    "across_mm",
    "yarn",
    "hook_mm",
    "stitch",
    "start",
    "ease_mm",
    "depth_mm",
    "height_mm",
    "brim_mm",
    "slope_deg",
    "joined",
)
"""The interview, in its order. The shape is a brimmed hat unless the maker names another."""
OF_SHAPES = frozenset(
    {"head_mm", "across_mm", "ease_mm", "depth_mm", "height_mm", "brim_mm", "slope_deg"}
)
"""Questions that only some shapes need."""

FIXED_BY_RING = frozenset({"shape", "start", "stitch", "joined"})
"""Answers that cannot change once the ring is worked."""


def questions(shape: Shape) -> tuple[str, ...]:
    """The interview for a shape, in its order."""
    return tuple(key for key in QUESTIONS if key not in OF_SHAPES or key in shape.asked)
