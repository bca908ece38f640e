"""What changes the stitch from here on, and leaves the rounds that are worked as they are.

The gauge is that of the stitch now, so its ring is where the rounds of now would begin: the depth
of n rounds, n h + r0, stays what it was at the change, with its spread. A tape from the middle then
tells of the height of the rounds after it alone.
"""

from __future__ import annotations

from dataclasses import replace

from pattern.gauge.estimate import Gauge, square
from pattern.gauge.kalman import Matrix, dot, times
from pattern.gauge.miscount import Miscount


def scaled(gauge: Gauge, ratio: float, rounds: int) -> Gauge:
    """The gauge when stitches become `ratio` times as large after so many rounds."""
    return _turned(gauge, _turn(ratio, rounds * (1 - ratio)))


def beside_scaled(miscount: Miscount, ratio: float, rounds: int) -> Miscount:
    """The miscount beside that gauge: as many stitches, and they hang together with the new ones
    as they did with the old.
    """
    width, height, ring = times(_turn(ratio, rounds * (1 - ratio)), miscount.with_gauge)
    return replace(miscount, with_gauge=(width, height, ring))


def unsettled(gauge: Gauge, relative: float, rounds: int) -> Gauge:
    """Less sure by a relative change of tension, alike in width and height, after so many rounds.

    The change is independent of any miscount, whose covariance with the gauge stays.
    """
    step = (
        relative * gauge.width_mm,
        relative * gauge.height_mm,
        -rounds * relative * gauge.height_mm,
    )
    return Gauge(gauge.mean, square(lambda i, j: gauge.covariance[i][j] + step[i] * step[j]))


def sooner(gauge: Gauge, ratio: float, rounds: int) -> Gauge:
    """The gauge when the change to `ratio` times the size turns out to begin so many rounds sooner,
    as those are ripped back.
    """
    return _turned(gauge, _turn(1.0, -rounds * (1 / ratio - 1)))


def _turn(ratio: float, height_to_ring: float) -> Matrix:
    """The matrix that makes (w, h, r0) to (ratio w, ratio h, r0 + height_to_ring h)."""
    return (ratio, 0.0, 0.0), (0.0, ratio, 0.0), (0.0, height_to_ring, 1.0)


def _turned(gauge: Gauge, turn: Matrix) -> Gauge:
    width, height, ring = times(turn, gauge.mean)
    half = [times(gauge.covariance, row) for row in turn]
    return Gauge((width, height, ring), square(lambda i, j: dot(turn[i], half[j])))
