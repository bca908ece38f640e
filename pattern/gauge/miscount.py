"""The miscount: stitches in a round beyond those believed, estimated until they are counted.

A tape around the edge shows the girth of the stitches that are really there. It therefore informs
both the stitch width and the miscount, and a later count tells the two apart. The miscount is a
fourth value of the gauge filter, beside (w, h, r0), with its own variance and covariances. A count
is an exact reading of it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from pattern.gauge.estimate import Estimate, Gauge, Row, square
from pattern.gauge.kalman import Matrix, Vector, updated

SLIPS, SLIPS_UNSEEN = 1 / 200, 1 / 40000
"""Share of stitches that are slips (one too many or one left out), once a count differed from the
called one, and before that: no source. The first is one slip in two or three rounds, as in
`tests.bench hard`. The second hardly disturbs a maker without slips, and lets a first count tell
how old a slip may be."""
SHOWS = 0.5
"""Probability that a slip shows in the next increase round, because the repeats do not end at the
marker; our choice."""
_COUNT = (0.0, 0.0, 0.0, 1.0)


@dataclass(frozen=True, slots=True)
class Miscount:
    """Estimated stitches beyond those believed; negative if stitches are missing."""

    mean: float = 0.0
    variance: float = 0.0
    with_gauge: Row = (0.0, 0.0, 0.0)
    """Covariance with (w, h, r0), in mm."""

    def apart(self) -> Miscount:
        """The miscount without its covariances, for when the gauge alone was updated."""
        return replace(self, with_gauge=(0.0, 0.0, 0.0))


def girth(gauge: Gauge, miscount: Miscount, stitches: float) -> Estimate:
    """Girth of a round with this number of believed stitches, to first order."""
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
    """Gauge and miscount after a reading around a round of this number of believed stitches."""
    row = (stitches + miscount.mean, 0.0, 0.0, gauge.width_mm)
    surprise = value_mm - girth(gauge, miscount, stitches).mean
    return _learned(gauge, miscount, row, surprise, noise_sd)


def along(
    gauge: Gauge, miscount: Miscount, row: Row, value_mm: float, noise_sd: float
) -> tuple[Gauge, Miscount]:
    """Gauge and miscount after a reading that does not depend on the number of stitches."""
    surprise = value_mm - gauge.of(row).mean
    return _learned(gauge, miscount, (*row, 0.0), surprise, noise_sd)


def worked(miscount: Miscount, stitches: int, share: float) -> Miscount:
    """The miscount after a round of this number of stitches, a share of which are slips."""
    return replace(miscount, variance=miscount.variance + share * stitches)


def came_out(gauge: Gauge, miscount: Miscount) -> tuple[Gauge, Miscount]:
    """Gauge and miscount after an increase round: an older slip would have shown, see SHOWS.

    This is the Kalman step for a reading of 0 miscounted stitches, whose noise variance is
    (1 - SHOWS) / SHOWS times that of the miscount. It is written out because most rounds of a plan
    need it.
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
    """The gauge after a count found `over` stitches more than believed; no miscount is left.

    The stitch width is corrected for the part of them that a tape had already seen.
    """
    if not miscount.variance:
        return gauge
    return _learned(gauge, miscount, _COUNT, over - miscount.mean, 0.0)[0]


def _learned(
    gauge: Gauge, miscount: Miscount, row: Vector, surprise: float, noise_sd: float
) -> tuple[Gauge, Miscount]:
    """Gauge and miscount after a reading of row . (w, h, r0, miscount), off by `surprise`."""
    gain, after = updated(_joint(gauge, miscount), row, noise_sd)
    mean = [m + g * surprise for m, g in zip((*gauge.mean, miscount.mean), gain, strict=True)]
    width, height, ring, variance = after[3]
    learned = gauge.known(mean[:3], tuple(line[:3] for line in after[:3]))
    return learned, Miscount(mean[3], max(variance, 0.0), (width, height, ring))


def _joint(gauge: Gauge, miscount: Miscount) -> Matrix:
    lines = zip(gauge.covariance, miscount.with_gauge, strict=True)
    return (*((*line, other) for line, other in lines), (*miscount.with_gauge, miscount.variance))
