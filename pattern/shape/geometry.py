"""Geometry of the profile: parts along the meridian, and the girth that lies flat on them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the meridian whose slope turns evenly from `start` to `end`.

    Slopes are in degrees below level: 0 is level and outward (a disc), 90 is straight down (sides),
    20 is a brim. From 0 to 90 is a dome, from 0 to 180 a ball.
    """

    length_mm: float
    start_deg: float
    end_deg: float

    def outward_mm(self, along_mm: float) -> float:
        """Growth of the radius after `along_mm` of the part."""
        start = math.radians(self.start_deg)
        turn = math.radians(self.end_deg - self.start_deg)
        if abs(turn) < 1e-12 or self.length_mm == 0:
            return along_mm * math.cos(start)
        bend = turn / self.length_mm
        return (math.sin(start + bend * along_mm) - math.sin(start)) / bend


def disc(radius_mm: float) -> Part:
    """A flat disc."""
    return Part(radius_mm, 0, 0)


def dome(radius_mm: float) -> Part:
    """A quarter circle, from the level centre to straight down."""
    return Part(radius_mm * math.pi / 2, 0, 90)


def side(length_mm: float) -> Part:
    """Straight sides."""
    return Part(length_mm, 90, 90)


def brim(width_mm: float, slope_deg: float) -> Part:
    """A brim that slopes outward, `slope_deg` below level."""
    return Part(width_mm, slope_deg, slope_deg)


def taper(
    from_mm: float, to_mm: float, length_mm: float | None, slope_deg: float | None = None
) -> Part:
    """A straight taper from one radius to another, over a length or, if none is given, at a slope.

    If the length is shorter than the difference of the radii, the part is level and as long as
    that difference.
    """
    out = to_mm - from_mm
    if length_mm is None:
        fall = math.cos(math.radians(slope_deg if slope_deg is not None else 90.0))
        length_mm = out / fall if out * fall > 0 else abs(out)
    length_mm = max(length_mm, abs(out))
    angle = math.degrees(math.acos(out / length_mm)) if length_mm else 90.0
    return Part(length_mm, angle, angle)


def ball(radius_mm: float) -> Part:
    """A half circle, from one pole to the other."""
    return Part(radius_mm * math.pi, 0, 180)


def radius_at(parts: Sequence[Part], along_mm: float) -> float:
    """Radius at an arc length from the centre; beyond the end, the radius of the end."""
    radius = 0.0
    for part in parts:
        within = min(along_mm, part.length_mm)
        radius += part.outward_mm(within)
        along_mm -= within
        if along_mm <= 0:
            break
    return radius


def flat_girth_mm(radius_mm: float, corners: int | None = None) -> float:
    """Girth that lies flat: of a circle, or of a regular polygon with the apothem `radius_mm`.

    Stacked increases make corners; the apothem grows by one round height each round.
    """
    if corners is None:
        return math.tau * radius_mm
    return 2 * corners * math.tan(math.pi / corners) * radius_mm


def across_corners(corners: int) -> float:
    """Distance from a corner of a regular polygon across its middle, divided by twice the apothem.

    Opposite a corner lies another corner if their number is even, or the middle of a side if it
    is odd.
    """
    tip = 1 / math.cos(math.pi / corners)
    return tip if corners % 2 == 0 else (tip + 1) / 2
