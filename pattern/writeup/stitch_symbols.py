"""The symbols of crochet charts as SVG path data.

A plus is single crochet, a T half double, a T with one stroke double, with two treble; a V is two
stitches in one, an inverted V two together; a dot is a slip stitch and an oval a chain. Source:
symbols of JIS L 0201 and of the Craft Yarn Council's chart (both from memory).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from pattern.trade.stitches import Stitch
from pattern.writeup.drawing import Point, number

_STROKES = {Stitch.HALF_DOUBLE: 0, Stitch.DOUBLE: 1, Stitch.TREBLE: 2}
"""Strokes through the stem of each stitch that is drawn as a T."""


@dataclass(frozen=True, slots=True)
class Band:
    """Where a symbol stands: between two circles around a middle, at an angle from the top."""

    middle: Point
    inner: float
    outer: float

    def at(self, share: float, angle: float) -> Point:
        """The point at a share of the way out; angles run clockwise from the top."""
        radius = self.inner + share * (self.outer - self.inner)
        x, y = self.middle
        return x + radius * math.sin(angle), y - radius * math.cos(angle)


def stitch_symbol(stitch: Stitch, band: Band, angle: float, cell: float) -> str:
    """One stitch; `cell` is the angle that it has room in."""
    wide = _reach(band, cell)
    if stitch is Stitch.SINGLE:
        stem = [band.at(0.18, angle), band.at(0.82, angle)]
        return _lines([stem, _bar(band, 0.5, angle, wide)])
    foot, head = band.at(0.06, angle), band.at(0.9, angle)
    return _lines([[foot, head], _bar(band, 0.9, angle, wide), *_strokes(stitch, foot, head)])


def forked(stitch: Stitch, foot: Sequence[Point], head: Sequence[Point]) -> str:
    """Stems that meet: two stitches in one, or two worked together."""
    stems = [(a, b) for a in foot for b in head]
    lines = [[a, b] for a, b in stems]
    if stitch is not Stitch.SINGLE:
        for a, b in stems:
            lines += [_across(a, b, 0.98, 0.2, slant=False), *_strokes(stitch, a, b)]
    return _lines(lines)


def slip_symbol(at: Point, size: float) -> str:
    """A dot."""
    return _oval(at, size / 2, size / 2)


def chain_symbol(at: Point, size: float, angle: float) -> str:
    """An oval along the radius at this angle."""
    turn = math.degrees(angle)
    return _oval(at, size * 0.28, size / 2, turn)


def _oval(at: Point, wide: float, high: float, turn: float = 0.0) -> str:
    x, y = at
    dx, dy = high * math.sin(math.radians(turn)), high * math.cos(math.radians(turn))
    arc = f"A{number(wide)} {number(high)} {number(turn)} 0 0"
    top, foot = f"{number(x + dx)} {number(y - dy)}", f"{number(x - dx)} {number(y + dy)}"
    return f"M{top}{arc} {foot}{arc} {top}Z"


def _reach(band: Band, cell: float) -> float:
    """Half the angle of a bar: it stays in its cell, and is no wider than it is high."""
    high = band.outer - band.inner
    return min(0.36 * cell, 0.34 * high / max((band.inner + band.outer) / 2, 1e-6))


def _bar(band: Band, share: float, angle: float, wide: float) -> list[Point]:
    return [band.at(share, angle - wide), band.at(share, angle + wide)]


def _strokes(stitch: Stitch, foot: Point, head: Point) -> list[list[Point]]:
    count = _STROKES.get(stitch, 0)
    return [_across(foot, head, 0.62 - 0.16 * at, 0.17, slant=True) for at in range(count)]


def _across(foot: Point, head: Point, share: float, reach: float, *, slant: bool) -> list[Point]:
    """A short line across a stem, at a share of its way up; slanted as strokes are."""
    dx, dy = head[0] - foot[0], head[1] - foot[1]
    x, y = foot[0] + share * dx, foot[1] + share * dy
    tilt = 0.5 * reach if slant else 0.0
    step = reach * dy + tilt * dx, -reach * dx + tilt * dy
    return [(x - step[0], y - step[1]), (x + step[0], y + step[1])]


def _lines(lines: Iterable[Iterable[Point]]) -> str:
    return "".join(
        "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) for points in lines
    )
