"""The profile to be covered: parts along the meridian, and the girth that lies flat on it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Part:
    """A stretch of the meridian whose slope below level turns evenly from `start` to `end`.

    0 is level and outward (a disc), 90 straight down (sides), 20 a brim; 0 to 90 is a dome and
    0 to 180 a ball.
    """

    length_mm: float
    start_deg: float
    end_deg: float

    def outward_mm(self, along_mm: float) -> float:
        """How much the radius has grown `along_mm` into the part."""
        start = math.radians(self.start_deg)
        turn = math.radians(self.end_deg - self.start_deg)
        if abs(turn) < 1e-12 or self.length_mm == 0:
            return along_mm * math.cos(start)
        bend = turn / self.length_mm
        return (math.sin(start + bend * along_mm) - math.sin(start)) / bend

    def down_mm(self, along_mm: float) -> float:
        """How far it has fallen `along_mm` into the part."""
        start = math.radians(self.start_deg)
        turn = math.radians(self.end_deg - self.start_deg)
        if abs(turn) < 1e-12 or self.length_mm == 0:
            return along_mm * math.sin(start)
        bend = turn / self.length_mm
        return (math.cos(start) - math.cos(start + bend * along_mm)) / bend


def disc(radius_mm: float) -> Part:
    """A flat disc."""
    return Part(radius_mm, 0, 0)


def dome(radius_mm: float) -> Part:
    """A quarter turn of a circle, from the level centre to straight down."""
    return Part(radius_mm * math.pi / 2, 0, 90)


def side(length_mm: float) -> Part:
    """Straight down."""
    return Part(length_mm, 90, 90)


def brim(width_mm: float, slope_deg: float) -> Part:
    """Outward, falling `slope_deg` below level."""
    return Part(width_mm, slope_deg, slope_deg)


def taper(
    from_mm: float, to_mm: float, length_mm: float | None, slope_deg: float | None = None
) -> Part:
    """Straight from one radius to another, over a length or, where none is given, at a slope.

    Where the length is too short for the way, it is level, and as long as the way.
    """
    out = to_mm - from_mm
    if length_mm is None:
        fall = math.cos(math.radians(slope_deg if slope_deg is not None else 90.0))
        length_mm = out / fall if out * fall > 0 else abs(out)
    length_mm = max(length_mm, abs(out))
    angle = math.degrees(math.acos(out / length_mm)) if length_mm else 90.0
    return Part(length_mm, angle, angle)


def ball(radius_mm: float) -> Part:
    """Half a turn of a circle, from one pole to the other."""
    return Part(radius_mm * math.pi, 0, 180)


def radius_at(parts: Sequence[Part], along_mm: float) -> float:
    """The radius at an arc length from the centre; past the end, that of the end."""
    radius = 0.0
    for part in parts:
        within = min(along_mm, part.length_mm)
        radius += part.outward_mm(within)
        along_mm -= within
        if along_mm <= 0:
            break
    return radius


def flat_girth_mm(radius_mm: float, corners: int | None = None) -> float:
    """Girth that lies flat: a circle's, or a polygon's whose flats are `radius_mm` from the centre.

    Increases above one another make corners; the apothem grows by a round height each round.
    """
    if corners is None:
        return math.tau * radius_mm
    return 2 * corners * math.tan(math.pi / corners) * radius_mm


def across_corners(corners: int) -> float:
    """From a corner through the middle of a regular polygon to its other edge, over twice the way
    from the middle to a side.

    Across from a corner is another one where their number is even, and the middle of a side where
    it is odd.
    """
    tip = 1 / math.cos(math.pi / corners)
    return tip if corners % 2 == 0 else (tip + 1) / 2
