"""Pictures as SVG: inks, lines, circles, text and axes."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

INK, PAPER, SHADE = "#1a1a1a", "#ffffff", "#e6e6e6"
"""Colours of text and lines, of the background, and of the fill of bands and table heads."""
WIDTH = 400.0
"""Width of every picture in SVG units; a page scales it to the width of its column."""
TEXT = 20.0
"""Text height in SVG units, which makes it 14 px in a column of 280 px."""
SVG = "http://www.w3.org/2000/svg"
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing with a description in words."""

    svg: str
    """A whole SVG document, including the title and the description."""
    title: str
    description: str


class Canvas:
    """A drawing in progress; x goes right and y goes down."""

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
        """Draw a line through the points, filled if a fill is given."""
        path = "M" + "L".join(_at(point) for point in points)
        self.path(path, width=width, dash=dash, fill=fill, ink=ink)

    def path(
        self, path: str, *, width: float = 2, dash: str = "", fill: str = "none", ink: str = INK
    ) -> None:
        """Draw a path given as SVG path data."""
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
        """Draw a circle, filled with ink or empty."""
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
        """Draw text with its baseline at `at`; a halo separates it from lines behind it."""
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
        """Draw lines of text at the left edge; returns the y of the next line."""
        for line in lines:
            self.text((4, top + TEXT), line)
            top += 1.35 * TEXT
        return top

    def picture(self, height: float) -> Picture:
        """The finished drawing with this height."""
        self._root.set("viewBox", f"0 0 {number(WIDTH)} {number(height)}")
        svg = ET.tostring(self._root, encoding="unicode")
        return Picture(svg, self._title, self._description)


def number(value: float) -> str:
    """A coordinate to one decimal. Raises: ValueError for one that is not finite."""
    if not math.isfinite(value):
        raise ValueError(f"{value} is no place in a picture")
    return f"{value:.1f}".removesuffix(".0")


def _at(point: Point) -> str:
    return f"{number(point[0])} {number(point[1])}"


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
