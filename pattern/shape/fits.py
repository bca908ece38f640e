"""Words for how a piece that is tried on sits, and how much each of them says.

Common practice, no source: the figures are where such words begin and end by judgement, and the
spreads are as wide as the words are, from head to head and hand to hand.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from pattern.shape.reading_kinds import Kind
from pattern.trade.fibres import Fibre


class Fit(StrEnum):
    """How a piece that is tried on sits."""

    NOT_ON = "it will not go on"
    TIGHT = "too tight"
    SNUG = "snug"
    RIGHT = "just right"
    LOOSE = "a little loose"
    SLIDES = "it slides down"
    TIGHT_BY = "too tight by a length"
    LOOSE_BY = "too wide by a length"
    PINCH = "so much can be pinched"
    FINGERS = "so many fingers fit under it"
    HIGH = "it ends at the hairline"
    SHORT = "it ends well above the eyebrows"
    ABOVE = "it ends just above the eyebrows"
    AT_BROW = "it ends at the eyebrows"
    BELOW = "it ends below the eyebrows"
    OFF_EARS = "it ends a finger above the ears"
    ON_EARS = "it covers the tops of the ears"
    OVER_EARS = "it covers the ears"
    DEEP = "deep enough"
    SHORT_BY = "too short by a length"
    DEEP_BY = "too deep by a length"
    FLOPPY = "the brim is floppy"
    STANDS = "the brim stands up"
    WIDE = "the brim is wide enough"
    HIDES = "the brim hides the eyes"
    FALLS = "the brim falls well"


@dataclass(frozen=True, slots=True)
class Word:
    """How much a word says, in mm."""

    kind: Kind
    offset_mm: float = 0.0
    """Around the head: wider than it is wanted. On the face: lower than just above the eyebrows."""
    spread_mm: float = 0.0
    """One standard deviation; 0 where the word is no reading."""
    ends: int = 0
    """-1 where all that is tighter or ends higher is called so, too, and 1 where all that is wider
    or ends lower is."""

    @property
    def step_mm(self) -> float:
        """The step of a tape that is as coarse as the word."""
        return self.spread_mm * math.sqrt(12)


FITS: dict[Fit, Word] = {
    Fit.NOT_ON: Word(Kind.FIT, -70.0, 30.0, -1),
    Fit.TIGHT: Word(Kind.FIT, -28.0, 10.0),
    Fit.SNUG: Word(Kind.FIT, -15.0, 7.0),
    Fit.RIGHT: Word(Kind.FIT, 0.0, 7.0),
    Fit.LOOSE: Word(Kind.FIT, 15.0, 8.0),
    Fit.SLIDES: Word(Kind.FIT, 60.0, 35.0, 1),
    Fit.TIGHT_BY: Word(Kind.FIT),
    Fit.LOOSE_BY: Word(Kind.FIT),
    Fit.PINCH: Word(Kind.FIT),
    Fit.FINGERS: Word(Kind.FIT),
    Fit.HIGH: Word(Kind.EDGE, -40.0, 10.0),
    Fit.SHORT: Word(Kind.EDGE, -20.0, 8.0, -1),
    Fit.ABOVE: Word(Kind.EDGE, 0.0, 5.0),
    Fit.AT_BROW: Word(Kind.EDGE, 12.0, 5.0),
    Fit.BELOW: Word(Kind.EDGE, 25.0, 8.0, 1),
    Fit.OFF_EARS: Word(Kind.EDGE, -5.0, 8.0),
    Fit.ON_EARS: Word(Kind.EDGE, 15.0, 8.0),
    Fit.OVER_EARS: Word(Kind.EDGE, 50.0, 12.0),
    Fit.DEEP: Word(Kind.EDGE, spread_mm=5.0),
    Fit.SHORT_BY: Word(Kind.EDGE, spread_mm=5.0),
    Fit.DEEP_BY: Word(Kind.EDGE, spread_mm=5.0),
    Fit.FLOPPY: Word(Kind.WORN),
    Fit.STANDS: Word(Kind.WORN),
    Fit.WIDE: Word(Kind.WORN),
    Fit.HIDES: Word(Kind.WORN),
    Fit.FALLS: Word(Kind.WORN),
}
"""The one table of fits."""

STANDING_MM = 6.0
"""Circumference that can be pinched up in a hat that fits, since cloth gives."""
PINCHED, PINCHED_SPREAD = 1.5, 0.29
"""Circumference in a pinch, in lengths of it: a fold of two centimetres holds two of cloth, told by
what is between the fingers, or four, told by how far it stands off. Evenly between them: the
middle, and a standard deviation of one over the root of twelve."""
FOLDED, FOLDED_SPREAD = 1.9, 0.15
"""The same where it was asked how far the fold stands off: twice that, less its turn."""
FINGER_MM = 10.0
"""Circumference that a finger under the edge takes up. Worked out: a cord around a circle of 90 mm
radius is about 10 mm longer over a bump of 14 mm, the thickness of a finger (common practice, no
source). One finger goes under a hat that fits, since cloth gives."""
_HAND_MM = 6.0
"""How exactly lengths and fingers are judged by hand, one standard deviation."""
_GUESSED = 0.25
"""How exactly a length is guessed on the head, relative."""
GIVES_MM: dict[Fibre, float] = {Fibre.COTTON: 5.0}
"""How much wider around a hat gets when it is worn, that does not spring back: a new one of cotton
should sit a little snug. Common practice, no source for the figure."""


def by_amount(fit: Fit, amount: float, *, folded: bool = False) -> Word:
    """The word with its length in mm, or its number of fingers; `folded` as it was asked for.

    Raises: KeyError for a word that has none.
    """
    match fit:
        case Fit.PINCH:
            many, share = (FOLDED, FOLDED_SPREAD) if folded else (PINCHED, PINCHED_SPREAD)
            spread = math.hypot(_HAND_MM, share * amount)
            return Word(Kind.FIT, many * amount - STANDING_MM, spread)
        case Fit.FINGERS:
            return Word(Kind.FIT, FINGER_MM * (amount - 1), math.hypot(_HAND_MM, amount))
        case Fit.TIGHT_BY | Fit.LOOSE_BY:
            offset = -amount if fit is Fit.TIGHT_BY else amount
            return Word(Kind.FIT, offset, math.hypot(_HAND_MM, _GUESSED * amount))
        case Fit.SHORT_BY | Fit.DEEP_BY:
            offset = -amount if fit is Fit.SHORT_BY else amount
            return Word(Kind.EDGE, offset, math.hypot(FITS[fit].spread_mm, _GUESSED * amount))
    raise KeyError(fit)


OUTRIGHT = frozenset({Fit.DEEP, Fit.SHORT_BY, Fit.DEEP_BY})
"""Words that say what is still missing, whatever the table says."""
BY_LENGTH = frozenset({Fit.PINCH, Fit.TIGHT_BY, Fit.LOOSE_BY, Fit.SHORT_BY, Fit.DEEP_BY})
"""Words that are said with a length."""
