"""The maker's answers to the interview, each with a default."""

from __future__ import annotations

import math
from dataclasses import dataclass

from pattern.shape.catalogue import BRIMMED_HAT, Measure, Shape
from pattern.trade.cautions import brim_for_shade_mm
from pattern.trade.fibres import Fibre
from pattern.trade.lengths import Unit
from pattern.trade.stitches import STITCHES, Stitch, Terms
from pattern.trade.yarns_and_hooks import HOOKS_MM, YARNS

Answered = str | float | int | bool | None
"""Types of an answer, as in JSON."""


@dataclass(frozen=True, slots=True)
class Settings:
    """The answers so far; None means "not said", and a property supplies the default."""

    unit: Unit = Unit.INCH
    terms: Terms = Terms.US
    shape: Shape = BRIMMED_HAT
    head_mm: float | None = None
    """Girth of the head, measured level above the ears."""
    across_mm: float | None = None
    """Width across, for a shape that is not sized by a head."""
    age_years: float | None = None
    """Age of the wearer; the cautions and the shade brim depend on it."""
    yarn: int = 4
    """Yarn weight class, 0 to 7."""
    hook_mm: float | None = None
    stitch: Stitch = Stitch.SINGLE
    start: int | None = None
    """Stitches worked into the ring, and increases in each round."""
    ease_mm: float = 0.0
    """Added to the head's girth; negative for a stretchy yarn."""
    depth_mm: float | None = None
    """From the centre of the crown to the bottom of the sides, along the fabric."""
    height_mm: float | None = None
    """Height of the sides alone, for a shape that is not sized by a head."""
    brim_mm: float | None = None
    """Width of the brim, along the fabric; 0 for no brim."""
    slope_deg: float | None = None
    """Slope of the brim below level."""
    fullness: float = 1.0
    """Girth of the brim divided by the girth that lies smooth at its slope."""
    joined: bool = False
    """Rounds are joined with a slip stitch, not worked in a spiral."""
    stacked: bool = False
    """Increases are stacked, which makes corners, not spread."""
    ball_g: float | None = None
    """Weight of a ball, from the ball band."""
    ball_m: float | None = None
    """Length of yarn in a ball, from the ball band."""
    fibre: Fibre | None = None
    """The fibre of the yarn, if it was said."""
    stash_g: float | None = None
    """Yarn available when the maker last said it; weighings tell how much of it is left."""

    @property
    def girth_mm(self) -> float:
        """Wanted girth of the sides, or the widest girth of a shape that is not sized by a head."""
        if not self.shape.for_head:
            return math.pi * self.across
        return self.head + self.ease_mm

    @property
    def head(self) -> float:
        """Circumference of the head: as said, or the middle one of grown people."""
        return self.head_mm if self.head_mm is not None else DEFAULT_HEAD_MM

    @property
    def across(self) -> float:
        """Width in mm of a shape that is not sized by a head: as said, or the usual one."""
        return self.across_mm if self.across_mm is not None else self.shape.usual_across_mm or 0.0

    @property
    def height(self) -> float:
        """Height of the sides in mm: as said, or half the width (our choice)."""
        return self.height_mm if self.height_mm is not None else self.across / 2

    @property
    def slope(self) -> float:
        """Slope of the brim in degrees below level: as said, or the shape's usual slope."""
        if self.slope_deg is not None:
            return self.slope_deg
        brims = (part for part in self.shape.parts if part.shaping.flared)
        return next((part.slope_deg for part in brims if part.slope_deg is not None), 0.0)

    @property
    def hook(self) -> float:
        """Hook diameter in mm: as said, or three quarters of the yarn class's middle hook.

        Hats are worked more tightly than usual: common practice, no source.
        """
        if self.hook_mm is not None:
            return self.hook_mm
        yarn = YARNS[self.yarn]
        wanted = 0.75 * (yarn.hook_least_mm + yarn.hook_most_mm) / 2
        return min(HOOKS_MM, key=lambda size: abs(size - wanted))

    @property
    def increases(self) -> int:
        """Stitches in the first round, and increases in each crown round."""
        return self.start or STITCHES[self.stitch].start

    @property
    def corner_to_side(self) -> bool:
        """Whether the crown has an odd number of corners: a side lies opposite each corner."""
        return self.stacked and self.increases % 2 == 1

    @property
    def depth(self) -> float:
        """Depth of crown and sides in mm: as said, or by default from the girth.

        The default is a third of the girth plus 1 cm: common practice, no source. For a small child
        it is 0.3 of the girth, 6 in at most: worked out so that median heads from birth to 5 years
        get 4 to 6 in, the trade's range (common practice, no source). Between the two it goes by
        the share that the child has grown; our choice.
        """
        if self.depth_mm is not None:
            return self.depth_mm
        small_mm = min(0.3 * self.girth_mm, CHILD_DEEPEST_MM)
        return small_mm + self._grown * (self.girth_mm / 3 + 10 - small_mm)

    @property
    def _grown(self) -> float:
        """How far the wearer has grown from a small child to an adult, 0 to 1: by age, or else by a
        head too small for an adult.
        """
        if self.age_years is None:
            return 0.0 if self.head_mm is not None and self.head_mm < CHILD_UNDER_MM else 1.0
        share = (self.age_years - SMALL_TO_YEARS) / (GROWN_FROM_YEARS - SMALL_TO_YEARS)
        return min(max(share, 0.0), 1.0)

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
"""Mean of the medians of men and women (ANSUR II: 57.4 and 56.1 cm)."""
SMALL_TO_YEARS, GROWN_FROM_YEARS = 5.0, 12.0
"""Age up to which the depths of small children hold, and from which heads are nearly full-grown;
our choice."""
CHILD_UNDER_MM = 508.0
"""20 in, over 2.7 standard deviations below the mean of women (ANSUR II: 56.1, 1.94 cm)."""
CHILD_DEEPEST_MM = 152.4
"""6 in. Common practice, no source."""
