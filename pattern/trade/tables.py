"""Published tables, the source beside each; everything else is worked out from them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from itertools import pairwise


class Stitch(StrEnum):
    """Stitches by their US names."""

    SINGLE = "single"
    HALF_DOUBLE = "half double"
    DOUBLE = "double"
    TREBLE = "treble"


class Terms(StrEnum):
    """The dialect of stitch names."""

    US = "us"
    UK = "uk"


@dataclass(frozen=True, slots=True)
class StitchFacts:
    """What is known of a stitch before the maker's own is measured."""

    uk_name: str
    us_short: str
    uk_short: str
    start: int
    """Stitches worked into the ring: common practice, no source."""
    height_in_widths: float
    """Round height over stitch width, worked in rounds. Single crochet 1.0 to 1.25: common
    practice, one test; the others so that the usual start lies flat (2 pi h / w = start),
    blended with the usual relative heights 1, 1.5, 2, 3: worked out from common practice.
    """
    turning_chains: int
    """Chains that reach the stitch's height. Common practice, no source."""


STITCHES: dict[Stitch, StitchFacts] = {
    Stitch.SINGLE: StitchFacts("double", "sc", "dc", 6, 1.10, 1),
    Stitch.HALF_DOUBLE: StitchFacts("half treble", "hdc", "htr", 8, 1.40, 2),
    Stitch.DOUBLE: StitchFacts("treble", "dc", "tr", 12, 1.95, 3),
    Stitch.TREBLE: StitchFacts("double treble", "tr", "dtr", 16, 2.70, 4),
}
"""US and UK names: a trade council's booklet, read as a copy; no original was read."""


def stitch_name(stitch: Stitch, terms: Terms) -> str:
    """The full name in the maker's terms, such as "single crochet"."""
    return f"{stitch.value if terms is Terms.US else STITCHES[stitch].uk_name} crochet"


def stitch_called(name: str, terms: Terms) -> Stitch | None:
    """The stitch that has this name in the maker's terms; None when there is none."""
    return next((s for s in Stitch if stitch_name(s, terms) == f"{name} crochet"), None)


@dataclass(frozen=True, slots=True)
class YarnClass:
    """A class of yarn weight with its published gauge in single crochet."""

    name: str
    fewest_in_4in: float
    most_in_4in: float
    hook_least_mm: float
    hook_most_mm: float
    metres_per_100g: tuple[float, float]
    """Mostly wool; common practice, no source."""


YARNS: tuple[YarnClass, ...] = (
    YarnClass("lace", 32, 42, 1.5, 2.25, (600, 800)),
    YarnClass("super fine", 21, 32, 2.25, 3.5, (350, 600)),
    YarnClass("fine", 16, 20, 3.5, 4.5, (250, 350)),
    YarnClass("light", 12, 17, 4.5, 5.5, (200, 250)),
    YarnClass("medium", 11, 14, 5.5, 6.5, (120, 200)),
    YarnClass("bulky", 8, 11, 6.5, 9.0, (100, 130)),
    YarnClass("super bulky", 7, 9, 9.0, 15.0, (40, 100)),
    YarnClass("jumbo", 5, 6, 15.0, 25.0, (20, 40)),
)
"""Index = class number. Gauge and hooks: Craft Yarn Council, Standard Yarn Weight System, from a
copy, which the Council calls guidelines. "6 and fewer", "15 mm and larger" are closed here at 5
and 25 mm, "600 and up" at 800 m, "under 40" at 20 m: our choice.
"""

HOOKS_MM = (
    1.5,
    1.75,
    2.0,
    2.25,
    2.75,
    3.25,
    3.5,
    3.75,
    4.0,
    4.5,
    5.0,
    5.5,
    6.0,
    6.5,
    8.0,
    9.0,
    10.0,
    12.0,
    15.0,
    16.0,
    20.0,
    25.0,
)
"""Hook diameters sold. Common practice, no source."""


class Sex(StrEnum):
    """For tables of head girth only."""

    FEMALE = "female"
    MALE = "male"


HEAD_MEDIAN_CM: dict[Sex, tuple[tuple[float, float], ...]] = {
    Sex.MALE: (
        (0, 34.46),
        (0.5 / 12, 35.99),
        (1 / 12, 37.28),
        (1.5 / 12, 38.29),
        (2 / 12, 39.13),
        (3 / 12, 40.51),
        (4 / 12, 41.63),
        (5 / 12, 42.56),
        (6 / 12, 43.33),
        (8 / 12, 44.53),
        (10 / 12, 45.41),
        (1, 46.07),
        (1.25, 46.81),
        (1.5, 47.37),
        (2, 48.25),
        (2.5, 48.94),
        (3, 49.46),
        (4, 50.21),
        (5, 50.74),
        (6, 53.2),
        (8, 53.9),
        (10, 54.5),
        (12, 55.1),
        (14, 55.9),
        (16, 56.6),
        (18, 57.4),
    ),
    Sex.FEMALE: (
        (0, 33.88),
        (0.5 / 12, 35.34),
        (1 / 12, 36.55),
        (1.5 / 12, 37.48),
        (2 / 12, 38.25),
        (3 / 12, 39.53),
        (4 / 12, 40.58),
        (5 / 12, 41.46),
        (6 / 12, 42.20),
        (8 / 12, 43.37),
        (10 / 12, 44.23),
        (1, 44.90),
        (1.25, 45.66),
        (1.5, 46.24),
        (2, 47.18),
        (2.5, 47.93),
        (3, 48.51),
        (4, 49.33),
        (5, 49.92),
        (6, 52.2),
        (8, 53.0),
        (10, 53.7),
        (12, 54.4),
        (14, 54.9),
        (16, 55.3),
        (18, 56.1),
    ),
}
"""(age in years, median girth in cm). To 5 years: WHO Child Growth Standards 2006, head
circumference for age; the rows lie so close that lines between them stay within a millimetre of
the curve. 6 to 16 years: UK90. 18 and over: ANSUR II (Gordon et al., NATICK/TR-15/007,
2014). WHO and UK90 differ by about 2 cm where they meet, so nothing is interpolated between 5 and
6 years: the older table begins at 6.
"""


def head_median_mm(age_years: float, sex: Sex) -> float:
    """Median head girth at an age, in mm; a measured head always wins over it.

    Linear between the rows of one reference; from 5 to 6 years the row of 5 holds.
    """
    rows = HEAD_MEDIAN_CM[sex]
    for (age, girth), (older, more) in pairwise(rows):
        if age <= age_years < older:
            part = 0.0 if age == 5 else (age_years - age) / (older - age)
            return 10 * (girth + part * (more - girth))
    return 10 * rows[-1][1] if age_years >= rows[-1][0] else 10 * rows[0][1]


def hat_size_us(girth_mm: float) -> Fraction:
    """US hat size: girth in inches over pi, to the nearest eighth. Common practice, a copy."""
    return Fraction(round(8 * girth_mm / 25.4 / math.pi), 8)


def brim_for_shade_mm(age_years: float | None) -> float:
    """Brim width advised for shade: 6 cm, and 5 cm to 8 years.

    Source: cancer councils of Australia and New Zealand (bucket style; a broad brim for 12 years
    and over is 7.5 cm). A crocheted hat gives shade; no protection factor may be claimed untested.
    """
    return 50.0 if age_years is not None and age_years < 9 else 60.0


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution and whom it concerns: makers of hats for children up to an age, or everybody."""

    key: str
    under_years: float | None
    only_brimmed: bool = False
    only_worn: bool = False


CAUTIONS: tuple[Caution, ...] = (
    Caution("cords", 7, only_worn=True),
    Caution("small parts", 3),
    Caution("sleep", 1.5, only_worn=True),
    Caution("shade", None, only_brimmed=True),
    Caution("hands", None),
)
"""Cords: EN 14682 rules them out at head and neck under 7 years for clothing and leaves hats out of
its scope; the same rule is advised. Small parts: US 16 CFR 1501, under 3 years. Sleep: American
Academy of Pediatrics, Pediatrics 2022;150(1):e2022057990 (overheating; the sentence on hats from
memory); the age at which it ends is our choice. Shade: see `brim_for_shade_mm`. Hands: short rests
as an employer's health service advises (Stanford EHS), evidence of low quality (Cochrane CD012886).
"""
