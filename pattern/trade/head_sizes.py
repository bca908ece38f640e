"""Head sizes by age: the median and the usual range. A measured head takes precedence."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from pattern.trade.head_medians import Sex, head_median_mm

HEAD_CENTILES_CM: dict[Sex, tuple[tuple[float, float, float], ...]] = {
    Sex.MALE: (
        (0, 32.07, 36.85),
        (0.25, 38.29, 42.74),
        (0.5, 41.03, 45.63),
        (0.75, 42.64, 47.36),
        (1, 43.65, 48.48),
        (1.5, 44.88, 49.87),
        (2, 45.69, 50.81),
        (3, 46.79, 52.13),
        (4, 47.46, 52.96),
        (5, 47.93, 53.55),
        (6, 50.28, 56.05),
        (8, 50.91, 56.82),
        (10, 51.47, 57.49),
        (12, 52.06, 58.19),
        (14, 52.74, 58.98),
        (16, 53.42, 59.76),
        (18, 54.5, 60.5),
    ),
    Sex.FEMALE: (
        (0, 31.65, 36.11),
        (0.25, 37.20, 41.87),
        (0.5, 39.75, 44.65),
        (0.75, 41.31, 46.35),
        (1, 42.34, 47.45),
        (1.5, 43.64, 48.84),
        (2, 44.56, 49.81),
        (3, 45.85, 51.17),
        (4, 46.66, 52.00),
        (5, 47.25, 52.60),
        (6, 49.92, 54.42),
        (8, 50.71, 55.30),
        (10, 51.37, 56.11),
        (12, 51.91, 56.80),
        (14, 52.35, 57.39),
        (16, 52.74, 57.90),
        (18, 52.8, 60.2),
    ),
}
"""(age in years, 3rd and 97th centile of head girth in cm). Up to 5 years: WHO Child Growth
Standards 2006; 6 to 16: UK90; 18 and over: ANSUR II, as for the medians in `head_medians`. There
is no interpolation between 5 and 6 years, where the two references differ by about 2 cm.
"""


@dataclass(frozen=True, slots=True)
class HeadRange:
    """Girths in mm at the 3rd, 50th and 97th centile."""

    small: float
    middle: float
    large: float


def head_range(age_years: float, sex: Sex) -> HeadRange:
    """Girths at an age, interpolated within one reference; adult from 18 years on."""
    middle = head_median_mm(age_years, sex)
    rows = HEAD_CENTILES_CM[sex]
    for (age, small, large), (older, small_then, large_then) in pairwise(rows):
        if age <= age_years < older:
            part = 0.0 if age == 5 else (age_years - age) / (older - age)
            return HeadRange(
                10 * (small + part * (small_then - small)),
                middle,
                10 * (large + part * (large_then - large)),
            )
    return HeadRange(10 * rows[-1][1], middle, 10 * rows[-1][2])


TABLED_AGES = (0.0, 0.25, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0)
"""Ages in years that are listed; the last one stands for adults."""
