"""Median head sizes by age, and the US hat size of a head."""

from __future__ import annotations

import math
from enum import StrEnum
from fractions import Fraction
from itertools import pairwise


class Sex(StrEnum):
    """Sex, used only to look up head sizes."""

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
"""(age in years, median girth in cm). Up to 5 years: WHO Child Growth Standards 2006, head
circumference for age; the rows are close enough that linear interpolation stays within a
millimetre of the curve. 6 to 16 years: UK90. 18 and over: ANSUR II (Gordon et al.,
NATICK/TR-15/007, 2014). WHO and UK90 differ by about 2 cm where they meet, so there is no
interpolation between 5 and 6 years: the older table begins at 6.
"""


def head_median_mm(age_years: float, sex: Sex) -> float:
    """Median head girth at an age, in mm; a measured head always takes precedence.

    Interpolated linearly within one reference; the value for 5 years holds until 6.
    """
    rows = HEAD_MEDIAN_CM[sex]
    for (age, girth), (older, more) in pairwise(rows):
        if age <= age_years < older:
            part = 0.0 if age == 5 else (age_years - age) / (older - age)
            return 10 * (girth + part * (more - girth))
    return 10 * rows[-1][1] if age_years >= rows[-1][0] else 10 * rows[0][1]


def hat_size_us(girth_mm: float) -> Fraction:
    """US hat size: girth in inches over pi, to the nearest 1/8. Common practice, from a copy."""
    return Fraction(round(8 * girth_mm / 25.4 / math.pi), 8)
