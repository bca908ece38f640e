"""A picture as SVG: its inks, and plain lines, marks, words and axes to draw it with."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

INK, PAPER, SHADE = "#1a1a1a", "#ffffff", "#e6e6e6"
"""Words and lines, what is behind them, and the fill of a band or of a table's head."""
WIDTH = 400.0
"""Width of every picture in its own units; a page shows it as wide as its column."""
TEXT = 20.0
"""Height of the letters in those units, so that they are 14 px still in a column of 280 px."""
SVG = "http://www.w3.org/2000/svg"
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing, and in words what it shows."""

    svg: str
    """A whole SVG document that holds title and description too."""
    title: str
    description: str


class Canvas:
    """What is drawn so far; x goes right and y goes down."""

    def __init__(self, title: str, description: str) -> None:
        """An empty drawing."""
        self._title, self._description = title, description
        self._root = ET.Element("svg", {"xmlns": SVG, "role": "img"})
        ET.SubElement(self._root, "title").text = title
        ET.SubElement(self._root, "desc").text = description

    def line(
        self,
        points: Iterable[Point],
        *,
        width: float = 2,
        dash: str = "",
        fill: str = "none",
        ink: str = INK,
    ) -> None:
        """A line through the points, filled where a fill is given."""
        path = "M" + "L".join(_at(point) for point in points)
        self.path(path, width=width, dash=dash, fill=fill, ink=ink)

    def path(
        self, path: str, *, width: float = 2, dash: str = "", fill: str = "none", ink: str = INK
    ) -> None:
        """A path in SVG's own words."""
        found = {
            "d": path,
            "fill": fill,
            "stroke": ink,
            "stroke-width": number(width),
            "stroke-linejoin": "round",
        }
        if dash:
            found["stroke-dasharray"] = dash
        ET.SubElement(self._root, "path", found)

    def circle(
        self,
        middle: Point,
        radius: float,
        *,
        width: float = 2,
        dash: str = "",
        filled: bool = False,
    ) -> None:
        """A circle, filled with ink or empty."""
        x, y = middle
        found = {
            "cx": number(x),
            "cy": number(y),
            "r": number(radius),
            "stroke": INK,
            "fill": INK if filled else "none",
            "stroke-width": number(width),
        }
        if dash:
            found["stroke-dasharray"] = dash
        ET.SubElement(self._root, "circle", found)

    def text(self, at: Point, words: str, *, anchor: str = "start", halo: bool = False) -> None:
        """Words whose baseline is at `at`; a halo keeps lines behind them off."""
        x, y = at
        found = {
            "x": number(x),
            "y": number(y),
            "font-size": number(TEXT),
            "fill": INK,
            "text-anchor": anchor,
            "font-family": "sans-serif",
        }
        if halo:
            found |= {"stroke": PAPER, "stroke-width": "6", "paint-order": "stroke"}
        ET.SubElement(self._root, "text", found).text = words

    def lines_of_text(self, lines: Iterable[str], top: float) -> float:
        """Lines of words one under another from the left edge; where the next would begin."""
        for line in lines:
            self.text((4, top + TEXT), line)
            top += 1.35 * TEXT
        return top

    def picture(self, height: float) -> Picture:
        """The drawing cut at its height."""
        self._root.set("viewBox", f"0 0 {number(WIDTH)} {number(height)}")
        svg = ET.tostring(self._root, encoding="unicode")
        return Picture(svg, self._title, self._description)


def number(value: float) -> str:
    """A coordinate to a tenth. Raises: ValueError for one that is not finite."""
    if not math.isfinite(value):
        raise ValueError(f"{value} is no place in a picture")
    return f"{value:.1f}".removesuffix(".0")


def _at(point: Point) -> str:
    return f"{number(point[0])} {number(point[1])}"


def ticks(least: float, most: float) -> list[float]:
    """Round numbers in the range: steps of 1, 2 or 5 times a power of ten, about five."""
    span = max(most - least, 1e-9) / 5
    power = 10.0 ** math.floor(math.log10(span))
    step = next(power * by for by in (1, 2, 5, 10) if power * by >= span * 0.999)
    first, last = math.ceil(least / step - 1e-9), math.floor(most / step + 1e-9)
    return [step * i for i in range(first, last + 1)]


@dataclass(frozen=True, slots=True)
class Axes:
    """Where values lie in a chart over rounds."""

    rounds: int
    """The last round; the first is 0 or 1."""
    least: float
    most: float
    left: float = 64.0
    top: float = 40.0
    height: float = 240.0

    def at(self, round_: float, value: float) -> Point:
        """The place of a value after so many rounds."""
        wide = WIDTH - self.left - 24
        share = (value - self.least) / (self.most - self.least)
        x = self.left + wide * round_ / max(self.rounds, 1)
        return x, self.top + self.height * (1 - min(max(share, 0.0), 1.0))

    @property
    def foot(self) -> float:
        """Where the room under the axes begins."""
        return self.top + self.height + 2.9 * TEXT


def draw_axes(canvas: Canvas, axes: Axes, name: str, foot: str) -> None:
    """Both axes with their numbers, the value's name over them, and that of the rounds under."""
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
    """Decimals that keep the numbers of an axis apart."""
    step = min((high - low for low, high in pairwise(ticks(least, most))), default=1.0)
    return max(0, -math.floor(math.log10(step) + 1e-9))
