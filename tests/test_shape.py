"""Shape: radii and areas against quadrature, polygon crowns against plane geometry, and roots."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad  # type: ignore[import-untyped]
from scipy.optimize import brentq  # type: ignore[import-untyped]
from shapely import LineString, Point, Polygon  # type: ignore[import-untyped]

from pattern.shape.geometry import (
    Part,
    across_corners,
    brim,
    disc,
    dome,
    flat_girth_mm,
    radius_at,
    side,
)
from tests.areas import area_mm2
from tests.hats import outline

LENGTHS = st.floats(1, 400)
UPPER = st.builds(Part, LENGTHS, st.floats(0, 40), st.floats(0, 90))
"""A part that goes outward all the way, so that radii stay above 0 behind it."""
LOWER = st.builds(Part, LENGTHS, st.floats(0, 90), st.floats(0, 90))
PROFILES = st.tuples(UPPER, LOWER, LOWER)


def slope_cos(part: Part, along_mm: float) -> float:
    """Definition of the part: the slope turns evenly along it."""
    turned = (part.end_deg - part.start_deg) * along_mm / part.length_mm
    return math.cos(math.radians(part.start_deg + turned))


def integral(part: Part, along_mm: float) -> float:
    """The radius gained, by scipy.integrate.quad."""
    return float(quad(lambda s: slope_cos(part, s), 0, along_mm)[0])


def regular(corners: int, apothem: float) -> Polygon:
    """A regular polygon about the origin, by its corners."""
    out = apothem / math.cos(math.pi / corners)
    turns = [math.tau * i / corners for i in range(corners)]
    return Polygon([(out * math.cos(t), out * math.sin(t)) for t in turns])


@given(LENGTHS, st.floats(0, 180), st.floats(0, 180), st.just(0.0) | st.floats(1e-6, 1))
def test_outward_is_the_integral_of_the_slope(
    length: float, start: float, end: float, share: float
) -> None:
    """Source: scipy.integrate.quad."""
    part = Part(length, start, end)
    want = integral(part, share * length)
    # ~1e-16 is divided by the least bend that is still a bend, hence the absolute part
    assert part.outward_mm(share * length) == pytest.approx(want, rel=1e-6, abs=0.05)


@given(PROFILES, st.just(0.0) | st.floats(1e-6, 1))
def test_radius_adds_up_over_parts(parts: tuple[Part, ...], share: float) -> None:
    """Source: scipy.integrate.quad."""
    along = left = share * sum(part.length_mm for part in parts)
    want = 0.0
    for part in parts:
        within = min(left, part.length_mm)
        want += integral(part, within)
        left -= within
    assert radius_at(parts, along) == pytest.approx(want, rel=1e-5, abs=0.05)


@given(PROFILES)
def test_area_is_the_surface_of_revolution(parts: tuple[Part, ...]) -> None:
    """Source: scipy.integrate.quad of 2 pi r ds over the three parts."""
    want, start = 0.0, 0.0
    for i, part in enumerate(parts):
        behind = sum(p.length_mm for p in parts[:i])

        def ring(s: float, behind: float = behind) -> float:
            return math.tau * radius_at(parts, behind + s)

        want += quad(ring, 0, part.length_mm)[0]
        start += integral(part, part.length_mm)
    assert radius_at(parts, 1e9) == pytest.approx(start, rel=1e-5, abs=0.05)
    assert area_mm2(parts) == pytest.approx(want, rel=1e-6)


@given(st.floats(1, 400))
def test_areas_of_disc_dome_and_ball(radius: float) -> None:
    """Source: Archimedes, On the Sphere and Cylinder (citation from memory)."""
    assert area_mm2([disc(radius)]) == pytest.approx(math.pi * radius**2)
    assert area_mm2([dome(radius)]) == pytest.approx(math.tau * radius**2, rel=1e-6)
    ball = Part(math.pi * radius, 0, 180)
    assert area_mm2([ball]) == pytest.approx(2 * math.tau * radius**2, rel=1e-6)
    assert radius_at([ball], ball.length_mm) == pytest.approx(0, abs=1e-9 * radius)


@given(st.integers(3, 40), st.floats(1, 300))
def test_polygon_girth(corners: int, apothem: float) -> None:
    """Source: shapely, the perimeter of the polygon whose flats are so far from its centre."""
    crown = regular(corners, apothem)
    assert crown.exterior.distance(Point(0, 0)) == pytest.approx(apothem)
    assert flat_girth_mm(apothem, corners) == pytest.approx(crown.length)
    assert flat_girth_mm(apothem, corners) > flat_girth_mm(apothem)


@given(st.integers(3, 40), st.floats(1, 300))
def test_from_a_corner_across_the_middle_over_twice_the_way_to_a_side(
    corners: int, apothem: float
) -> None:
    """Source: shapely, the part of a line from a corner through the middle that is inside."""
    crown = regular(corners, apothem)
    tip_x, tip_y = crown.exterior.coords[0]
    tape = LineString([(tip_x, tip_y), (-2 * tip_x, -2 * tip_y)]).intersection(crown)
    assert across_corners(corners) * 2 * apothem == pytest.approx(tape.length)
    other = tape.interpolate(tape.length)
    to_tip = min(other.distance(Point(xy)) for xy in crown.exterior.coords)
    assert (to_tip < 1e-6 * apothem) is (corners % 2 == 0), "the words name what lies there"


@given(st.floats(5, 300), st.floats(0.05, 0.95))
def test_where_a_dome_reaches_a_radius(radius: float, share: float) -> None:
    """Source: scipy.optimize.brentq; the arc is R asin(share) on a sphere."""
    part = dome(radius)
    root = brentq(lambda s: radius_at([part], s) - share * radius, 0, part.length_mm, xtol=1e-9)
    assert root == pytest.approx(radius * math.asin(share), rel=1e-6)


@given(st.integers(3, 24), st.floats(50, 900))
def test_the_radius_of_a_girth(corners: int, girth: float) -> None:
    """Source: scipy.optimize.brentq against the polygon of shapely scaled to that girth."""
    root = brentq(lambda r: flat_girth_mm(r, corners) - girth, 0, girth, xtol=1e-9)
    assert root == pytest.approx(girth / regular(corners, 1.0).length, rel=1e-6)


@given(st.floats(300, 700), st.floats(0, 300), st.floats(0, 150), st.floats(0, 85))
def test_a_hat_has_its_girth_depth_and_brim(
    girth: float, below: float, width: float, slope: float
) -> None:
    """Source: circle of circumference `girth`; cone that falls at `slope` (plane geometry)."""
    depth = girth / math.tau + below
    parts = outline(girth, depth, width, slope)
    assert math.tau * radius_at(parts, depth) == pytest.approx(girth)
    assert sum(part.length_mm for part in parts) == pytest.approx(depth + width)
    outer = girth / math.tau + width * math.cos(math.radians(slope))
    assert radius_at(parts, depth + width) == pytest.approx(outer)


@pytest.mark.parametrize(
    ("corners", "factor"),
    [
        (5, 7.265),
        (6, 6.928),
        (8, 6.627),
        (10, 6.498),
        (12, 6.431),
        (None, 6.283),
    ],
)
def test_girth_factors(corners: int | None, factor: float) -> None:
    """Worked out from 2 k tan(pi / k)."""
    assert flat_girth_mm(1.0, corners) == pytest.approx(factor, abs=5e-4)


@pytest.mark.parametrize(("corners", "ratio"), [(6, 1.155), (8, 1.082), (7, 1.055)])
def test_corner_factors(corners: int, ratio: float) -> None:
    """Worked out from 1 / cos(pi / k); of 7 from half of that and 1."""
    assert across_corners(corners) == pytest.approx(ratio, abs=5e-4)


@pytest.mark.parametrize(("slope", "brim_cm2"), [(0, 456.2), (30, 441.0)])
def test_areas_of_a_hat(slope: float, brim_cm2: float) -> None:
    """Worked out from pi R^2 + 2 pi R H + pi b (2 R + b cos s): R 9.1, H 10, b 6 cm."""
    parts = outline(math.tau * 91, 91 + 100, 60, slope)
    assert parts == (disc(91), side(100), brim(60, slope))
    sums = [area_mm2(parts[:n]) / 100 for n in range(4)]
    each = [after - before for before, after in pairwise(sums)]
    # 260.155 and 571.770 to one place
    assert each == pytest.approx([260.2, 571.8, brim_cm2], abs=0.051)
