"""Axes of charts over rounds."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from pattern.writeup.drawing import TEXT, WIDTH, Canvas, Point


def ticks(least: float, most: float) -> list[float]:
    """About five round numbers in the range, in steps of 1, 2 or 5 times a power of ten."""
    span = max(most - least, 1e-9) / 5
    power = 10.0 ** math.floor(math.log10(span))
    step = next(power * by for by in (1, 2, 5, 10) if power * by >= span * 0.999)
    first, last = math.ceil(least / step - 1e-9), math.floor(most / step + 1e-9)
    return [step * i for i in range(first, last + 1)]


@dataclass(frozen=True, slots=True)
class Axes:
    """Coordinates of a chart over rounds."""

    rounds: int
    """Number of the last round; the first is 0 or 1."""
    least: float
    most: float
    left: float = 64.0
    top: float = 40.0
    height: float = 240.0

    def at(self, round_: float, value: float) -> Point:
        """The point for a value after a number of rounds."""
        wide = WIDTH - self.left - 24
        share = (value - self.least) / (self.most - self.least)
        x = self.left + wide * round_ / max(self.rounds, 1)
        return x, self.top + self.height * (1 - min(max(share, 0.0), 1.0))

    @property
    def foot(self) -> float:
        """The y below the axes and their labels."""
        return self.top + self.height + 2.9 * TEXT


def draw_axes(canvas: Canvas, axes: Axes, name: str, foot: str) -> None:
    """Draw both axes with their numbers, the value's name above and `foot` below."""
    digits = _decimals(axes.least, axes.most)
    corner, right = axes.at(0, axes.least), axes.at(axes.rounds, axes.least)
    canvas.line([axes.at(0, axes.most), corner, right])
    canvas.text((4, TEXT), name)
    for value in ticks(axes.least, axes.most):
        x, y = axes.at(0, value)
        canvas.line([(x - 6, y), (x, y)])
        canvas.text((x - 10, y + TEXT / 3), f"{value:.{digits}f}", anchor="end")
    for value in (tick for tick in ticks(0, axes.rounds) if tick == int(tick)):
        x, y = axes.at(value, axes.least)
        canvas.line([(x, y), (x, y + 6)])
        canvas.text((x, y + 6 + TEXT), f"{value:.0f}", anchor="middle")
    canvas.text(((corner[0] + right[0]) / 2, corner[1] + 2.3 * TEXT), foot, anchor="middle")


def _decimals(least: float, most: float) -> int:
    """Number of decimals that makes the numbers of an axis distinct."""
    step = min((high - low for low, high in pairwise(ticks(least, most))), default=1.0)
    return max(0, -math.floor(math.log10(step) + 1e-9))
