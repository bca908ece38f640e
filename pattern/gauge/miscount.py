"""Stitches that are there beyond those that are believed, as far as no count has told yet.

A tape around the edge shows the girth of the stitches that are there; so it says something of the
width of a stitch and something of the miscount, and each count that follows tells them apart. The
miscount is one more value of the filter of gauge, beside (w, h, r0), with its variance and its
covariance with them; a count is a reading of it without any error.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from pattern.gauge.estimate import Estimate, Gauge, Row, square
from pattern.gauge.kalman import Matrix, Vector, updated

SLIPS, SLIPS_UNSEEN = 1 / 200, 1 / 40000
"""Share of stitches that are worked wrong, one too many or one left out, where a count was not as
called, and before: no source. The first is a slip in two or three rounds, that of the hands of
`tests.bench hard`; the second hardly unsettles who does not slip, and lets a first count tell how
old a slip may be."""
SHOWS = 0.5
"""How often a slip shows in the next round of increases, as its repeats do not come out at the
marker; our choice."""
_COUNT = (0.0, 0.0, 0.0, 1.0)


@dataclass(frozen=True, slots=True)
class Miscount:
    """Stitches there beyond those believed; below 0 for missing ones."""

    mean: float = 0.0
    variance: float = 0.0
    with_gauge: Row = (0.0, 0.0, 0.0)
    """Covariance with (w, h, r0), in mm."""

    def apart(self) -> Miscount:
        """The same where the gauge was learned by itself, so that less is known of how they hang
        together.
        """
        return replace(self, with_gauge=(0.0, 0.0, 0.0))


def girth(gauge: Gauge, miscount: Miscount, stitches: float) -> Estimate:
    """The girth of so many believed stitches, to first order."""
    there = stitches + miscount.mean
    width = gauge.of((1.0, 0.0, 0.0))
    variance = (
        (there * width.sd) ** 2
        + 2 * there * width.mean * miscount.with_gauge[0]
        + miscount.variance * width.mean**2
    )
    return Estimate(there * width.mean, math.sqrt(max(variance, 0.0)))


def around(
    gauge: Gauge, miscount: Miscount, stitches: float, value_mm: float, noise_sd: float
) -> tuple[Gauge, Miscount]:
    """Both after a reading around so many believed stitches."""
    row = (stitches + miscount.mean, 0.0, 0.0, gauge.width_mm)
    surprise = value_mm - girth(gauge, miscount, stitches).mean
    return _learned(gauge, miscount, row, surprise, noise_sd)


def along(
    gauge: Gauge, miscount: Miscount, row: Row, value_mm: float, noise_sd: float
) -> tuple[Gauge, Miscount]:
    """Both after a reading that does not hang on how many stitches the round has."""
    surprise = value_mm - gauge.of(row).mean
    return _learned(gauge, miscount, (*row, 0.0), surprise, noise_sd)


def worked(miscount: Miscount, stitches: int, share: float) -> Miscount:
    """The miscount after a round of so many stitches, of which a share is slips."""
    return replace(miscount, variance=miscount.variance + share * stitches)


def came_out(gauge: Gauge, miscount: Miscount) -> tuple[Gauge, Miscount]:
    """Both after a round of increases: an older slip would have shown, see SHOWS.

    The Kalman step of a reading of the miscount alone as none, whose noise has (1 - SHOWS) / SHOWS
    times its variance, worked out: it happens in most rounds of a plan.
    """
    if not miscount.variance:
        return gauge, miscount
    beside, innovation, stays = miscount.with_gauge, miscount.variance / SHOWS, 1 - SHOWS
    width, height, ring = beside
    after = Miscount(
        miscount.mean * stays,
        miscount.variance * stays,
        (width * stays, height * stays, ring * stays),
    )
    if not any(beside):
        return gauge, after
    mean = (m - c / innovation * miscount.mean for m, c in zip(gauge.mean, beside, strict=True))
    rows = gauge.covariance
    lines = square(lambda i, j: rows[i][j] - beside[i] * beside[j] / innovation)
    return gauge.known(mean, lines), after


def counted(gauge: Gauge, miscount: Miscount, over: int) -> Gauge:
    """The gauge after a count of so many stitches more than were believed; no miscount is left.

    As much of them as the tape saw was in the girth already, and not in the width.
    """
    if not miscount.variance:
        return gauge
    return _learned(gauge, miscount, _COUNT, over - miscount.mean, 0.0)[0]


def _learned(
    gauge: Gauge, miscount: Miscount, row: Vector, surprise: float, noise_sd: float
) -> tuple[Gauge, Miscount]:
    """Both after a reading of row . (w, h, r0, miscount) that was so much more than expected."""
    gain, after = updated(_joint(gauge, miscount), row, noise_sd)
    mean = [m + g * surprise for m, g in zip((*gauge.mean, miscount.mean), gain, strict=True)]
    width, height, ring, variance = after[3]
    learned = gauge.known(mean[:3], tuple(line[:3] for line in after[:3]))
    return learned, Miscount(mean[3], max(variance, 0.0), (width, height, ring))


def _joint(gauge: Gauge, miscount: Miscount) -> Matrix:
    lines = zip(gauge.covariance, miscount.with_gauge, strict=True)
    return (*((*line, other) for line, other in lines), (*miscount.with_gauge, miscount.variance))
