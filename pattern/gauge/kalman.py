"""The update of a Kalman filter by one reading, on vectors of any length.

A reading is one row, so it needs no matrix inverse.
Source: R. E. Kalman, "A New Approach to Linear Filtering and Prediction Problems", 1960.
"""

from __future__ import annotations

from collections.abc import Callable

Vector = tuple[float, ...]
Matrix = tuple[Vector, ...]


def dot(a: Vector, b: Vector) -> float:
    """The inner product. Raises: ValueError for vectors of different lengths."""
    return sum([x * y for x, y in zip(a, b, strict=True)])


def times(covariance: Matrix, row: Vector) -> Vector:
    """The product of a matrix and a vector."""
    return tuple([dot(line, row) for line in covariance])


def updated(covariance: Matrix, row: Vector, noise_sd: float) -> tuple[Vector, Matrix]:
    """Kalman gain of a reading of row . x, and the covariance after the reading.

    The covariance is updated in Joseph form, which keeps it symmetric and positive.
    """
    spread = times(covariance, row)
    innovation = dot(row, spread) + noise_sd**2
    gain = tuple(value / innovation for value in spread)
    size = range(len(row))
    keep = [tuple((i == j) - gain[i] * row[j] for j in size) for i in size]
    half = [times(covariance, line) for line in keep]
    noise = noise_sd**2
    return gain, symmetric(len(row), lambda i, j: dot(half[i], keep[j]) + gain[i] * gain[j] * noise)


def symmetric(size: int, cell: Callable[[int, int], float]) -> Matrix:
    """An exactly symmetric square matrix from the cells of its upper half."""
    upper = [[cell(i, j) for j in range(i, size)] for i in range(size)]
    return tuple([tuple([upper[min(i, j)][abs(i - j)] for j in range(size)]) for i in range(size)])
