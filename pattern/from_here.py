"""What changes the stitch from here on, and leaves the rounds that are worked as they are.

The gauge is that of the stitch now, so its ring is where the rounds of now would begin: the depth
of n rounds, n h + r0, stays what it was at the change, with its spread. A tape from the middle then
tells of the height of the rounds after it alone.
"""

from __future__ import annotations

from pattern.gauge import Gauge, Row

_SIZE = range(3)


def scaled(gauge: Gauge, ratio: float, rounds: int) -> Gauge:
    """The gauge when stitches become `ratio` times as large after so many rounds."""
    return _turned(gauge, ratio, rounds * (1 - ratio))


def unsettled(gauge: Gauge, relative: float, rounds: int) -> Gauge:
    """Less sure by a relative change of tension, alike in width and height, after so many rounds.
    """
    step = (relative * gauge.width_mm, relative * gauge.height_mm,
            -rounds * relative * gauge.height_mm)  # fmt: skip
    rows = [[gauge.covariance[i][j] + step[i] * step[j] for j in _SIZE] for i in _SIZE]
    return Gauge(gauge.mean, _symmetric(rows))


def sooner(gauge: Gauge, ratio: float, rounds: int) -> Gauge:
    """The gauge when the change to `ratio` times the size turns out to begin so many rounds sooner,
    as those are ripped back.
    """
    return _turned(gauge, 1.0, -rounds * (1 / ratio - 1))


def _turned(gauge: Gauge, ratio: float, height_to_ring: float) -> Gauge:
    """The gauge of (ratio w, ratio h, r0 + height_to_ring h)."""
    turn = ((ratio, 0.0, 0.0), (0.0, ratio, 0.0), (0.0, height_to_ring, 1.0))
    half = [[_dot(row, column) for column in gauge.covariance] for row in turn]
    rows = [[_dot(turn[j], half[i]) for j in _SIZE] for i in _SIZE]
    width, height, ring = (_dot(row, gauge.mean) for row in turn)
    return Gauge((width, height, ring), _symmetric(rows))


def _dot(a: Row | list[float], b: Row | list[float]) -> float:
    return sum(x * y for x, y in zip(a, b, strict=True))


def _symmetric(rows: list[list[float]]) -> tuple[Row, Row, Row]:
    """The matrix of the rows, made exactly symmetric."""
    (a, b, c), (d, e, f), (g, h, i) = rows
    ab, ac, bc = (b + d) / 2, (c + g) / 2, (f + h) / 2
    return (a, ab, ac), (ab, e, bc), (ac, bc, i)
