"""Changes of the stitch from here on, which leave the worked rounds as they are.

The gauge describes the current stitch. At the change r0 is adjusted, so that the depth of n rounds,
n h + r0, keeps its value and its spread; from then on r0 is only an offset. A tape from the centre
then informs only the height of the rounds after the change.
"""

from __future__ import annotations

from dataclasses import replace

from pattern.gauge.estimate import Gauge, square
from pattern.gauge.kalman import Matrix, dot, times
from pattern.gauge.miscount import Miscount


def scaled(gauge: Gauge, ratio: float, rounds: int) -> Gauge:
    """The gauge when stitches become `ratio` times as large after this number of rounds."""
    return _turned(gauge, _turn(ratio, rounds * (1 - ratio)))


def beside_scaled(miscount: Miscount, ratio: float, rounds: int) -> Miscount:
    """The miscount to go with that gauge: the same stitches, with their covariances transformed."""
    width, height, ring = times(_turn(ratio, rounds * (1 - ratio)), miscount.with_gauge)
    return replace(miscount, with_gauge=(width, height, ring))


def unsettled(gauge: Gauge, relative: float, rounds: int) -> Gauge:
    """The gauge with more spread, from a relative change of tension in both width and height.

    The change is independent of any miscount, so the covariance with the miscount stays.
    """
    step = (
        relative * gauge.width_mm,
        relative * gauge.height_mm,
        -rounds * relative * gauge.height_mm,
    )
    return Gauge(gauge.mean, square(lambda i, j: gauge.covariance[i][j] + step[i] * step[j]))


def sooner(gauge: Gauge, ratio: float, rounds: int) -> Gauge:
    """The gauge when the change to `ratio` times the size begins this number of rounds sooner.

    That happens when rounds are ripped back to before the change.
    """
    return _turned(gauge, _turn(1.0, -rounds * (1 / ratio - 1)))


def _turn(ratio: float, height_to_ring: float) -> Matrix:
    """The matrix that turns (w, h, r0) into (ratio w, ratio h, r0 + height_to_ring h)."""
    return (ratio, 0.0, 0.0), (0.0, ratio, 0.0), (0.0, height_to_ring, 1.0)


def _turned(gauge: Gauge, turn: Matrix) -> Gauge:
    width, height, ring = times(turn, gauge.mean)
    half = [times(gauge.covariance, row) for row in turn]
    return Gauge((width, height, ring), square(lambda i, j: dot(turn[i], half[j])))
