"""Pictures as SVG: inks, lines, circles and text."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

INK, PAPER = "currentColor", "var(--paper, #ffffff)"
"""Ink of text and lines, and the background; a page sets both, in a light and a dark scheme."""
SHADE, ACCENT = "var(--shade, #e6e6e6)", "var(--accent, #7d2a14)"
"""Fill of bands, and ink of the measures."""
WIDTH = 400.0
"""Width of a chart in SVG units."""
TEXT = 20.0
"""Height of the letters of a chart in SVG units."""
SVG = "http://www.w3.org/2000/svg"
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing with a description in words."""

    svg: str
    """A whole SVG document, including the title and the description."""
    title: str
    description: str
    width_px: float = WIDTH
    """Width at which its letters are as large as those of the page."""


@dataclass(frozen=True, slots=True)
class Letters:
    """Print of a page, for the pictures in it."""

    height_px: float
    """Height of its letters in CSS pixels, of which 96 are an inch."""
    page_px: float
    """Width of a picture that takes the whole page."""
    column_px: float
    """Width of one in the column of the text."""
    beside: bool
    """Whether words have room beside a drawing."""


REGULAR, LARGE = Letters(13, 640, 510, beside=True), Letters(24, 480, 480, beside=False)
"""Regular print, and large print of 18 pt."""


class Canvas:
    """A drawing in progress; x goes right and y goes down."""

    def __init__(
        self,
        title: str,
        description: str,
        letters: Letters = LARGE,
        *,
        width: float = WIDTH,
        text: float = TEXT,
    ) -> None:
        """An empty drawing; `width` and `text` (the height of its letters) are in SVG units."""
        self._title, self._description = title, description
        self.width, self.text_height = width, text
        self._shown_px = width * letters.height_px / text
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
        self,
        path: str,
        *,
        width: float = 2,
        dash: str = "",
        fill: str = "none",
        ink: str = INK,
        opacity: float = 1.0,
    ) -> None:
        """Draw a path given as SVG path data."""
        found = {
            "d": path,
            "fill": fill,
            "stroke": ink,
            "stroke-width": number(width),
            "stroke-linejoin": "round",
            "stroke-linecap": "round",
        }
        if dash:
            found["stroke-dasharray"] = dash
        if opacity < 1:
            found["stroke-opacity"] = number(opacity)
        ET.SubElement(self._root, "path", found)

    def curve(self, points: Sequence[Point], *, width: float = 2, ink: str = INK) -> None:
        """Draw a smooth curve through the points: a Catmull-Rom spline as cubic Bezier curves."""
        path = f"M{_at(points[0])}"
        padded = [points[0], *points, points[-1]]
        for before, start, end, after in zip(
            padded, padded[1:], padded[2:], padded[3:], strict=False
        ):
            leave = (start[0] + (end[0] - before[0]) / 6, start[1] + (end[1] - before[1]) / 6)
            arrive = (end[0] - (after[0] - start[0]) / 6, end[1] - (after[1] - start[1]) / 6)
            path += f"C{_at(leave)} {_at(arrive)} {_at(end)}"
        self.path(path, width=width, ink=ink)

    def circle(
        self,
        middle: Point,
        radius: float,
        *,
        width: float = 2,
        dash: str = "",
        filled: bool = False,
        ink: str = INK,
    ) -> None:
        """Draw a circle, filled with ink or empty."""
        x, y = middle
        found = {
            "cx": number(x),
            "cy": number(y),
            "r": number(radius),
            "stroke": ink,
            "fill": ink if filled else "none",
            "stroke-width": number(width),
        }
        if dash:
            found["stroke-dasharray"] = dash
        ET.SubElement(self._root, "circle", found)

    def text(
        self,
        at: Point,
        words: str,
        *,
        anchor: str = "start",
        halo: bool = False,
        ink: str = INK,
        bold: bool = False,
    ) -> None:
        """Draw text with its baseline at `at`; a halo separates it from lines behind it."""
        x, y = at
        found = {
            "x": number(x),
            "y": number(y),
            "font-size": number(self.text_height),
            "fill": ink,
            "text-anchor": anchor,
        }
        if bold:
            found["font-weight"] = "bold"
        if halo:
            found |= {"stroke": PAPER, "stroke-width": "6", "paint-order": "stroke"}
        ET.SubElement(self._root, "text", found).text = words

    def lines_of_text(self, lines: Iterable[str], top: float, left: float = 4) -> float:
        """Draw lines of text; returns the y of the next line."""
        for line in lines:
            self.text((left, top + self.text_height), line)
            top += 1.35 * self.text_height
        return top

    def picture(self, height: float) -> Picture:
        """The finished drawing with this height."""
        self._root.set("viewBox", f"0 0 {number(self.width)} {number(height)}")
        self._root.set("font-family", "system-ui, sans-serif")
        svg = ET.tostring(self._root, encoding="unicode")
        return Picture(svg, self._title, self._description, self._shown_px)


def number(value: float) -> str:
    """A coordinate to one decimal. Raises: ValueError for one that is not finite."""
    if not math.isfinite(value):
        raise ValueError(f"{value} is no place in a picture")
    return f"{value:.1f}".removesuffix(".0")


def _at(point: Point) -> str:
    return f"{number(point[0])} {number(point[1])}"
