"""Where the rings of a finished piece lie in its drawing: what is seen of each, and the outline."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from pattern.shape.catalogue import Form
from pattern.shape.geometry import Part
from pattern.shape.profile import parts_of
from pattern.shape.settings import Settings
from pattern.writeup.cloth import Seen, rings, seen
from pattern.writeup.drawing import Letters, Point, number

_ELEVATION_DEG = 17.0
"""The eye above level: enough to see the top, and little enough to see the sides; our choice."""
_HIGHEST_PX = 280.0
"""Greatest height of the drawing; our choice, so that the facts stand on the same sheet."""
_LEAST = -0.98
"""Sine up to which no more of a round is seen than a dot."""
_FLAT = 0.05
"""A piece that falls by less than this share of its radius is drawn from straight above."""


@dataclass(frozen=True, slots=True)
class View:
    """The rings as they are seen, and where they lie on the page."""

    rings: tuple[Seen, ...]
    """From the centre of the piece on."""
    scale: float
    middle: Point
    """Of x and y = 0 of the rings."""
    width: float
    labels_x: float
    foot: float

    @classmethod
    def of(cls, settings: Settings, letters: Letters, label_chars: int) -> View:
        """The view of a piece with labels of so many characters beside it."""
        text, width = letters.height_px, letters.page_px
        words = 0.62 * text * label_chars if letters.beside else 0.0
        drawn = width - words - 2.5 * text
        found = _seen(parts_of(settings), settings.shape.form)
        high = max(one.up_mm + one.ring.radius_mm * one.flatness for one in found)
        low = min(one.up_mm - one.ring.radius_mm * one.flatness for one in found)
        half = max(one.ring.radius_mm for one in found)
        scale = min(drawn / 2 / half, _HIGHEST_PX / (high - low))
        middle = (6 + half * scale, 8 + high * scale)
        labels_x = middle[0] + half * scale + 1.8 * text
        return cls(found, scale, middle, width, labels_x, 8 + (high - low) * scale)

    def at(self, ring: Seen, sine: float, side: int = 1) -> Point:
        """The point of a ring at the angle with this sine, on the right or on the left."""
        x, y = ring.point(sine, side)
        return self.middle[0] + x * self.scale, self.middle[1] - y * self.scale

    def ring_at(self, along_mm: float) -> Seen:
        """The ring nearest to a place along the cloth."""
        at = bisect_left(self.rings, along_mm, key=lambda one: one.ring.along_mm)
        beside = self.rings[max(at - 1, 0) : at + 1]
        return min(beside, key=lambda one: abs(one.ring.along_mm - along_mm))


@lru_cache(maxsize=8)
def _seen(parts: tuple[Part, ...], form: Form) -> tuple[Seen, ...]:
    """The rings from the centre on; a hollow piece stands on its centre, others hang from it.

    Kept for a while, since a piece is drawn for each print, and anew after each round.
    """
    cloth = rings(parts)
    if -cloth[-1].height_mm < _FLAT * cloth[-1].radius_mm:
        return seen(cloth, 90.0)
    if form is not Form.HOLLOW:
        return seen(cloth, _ELEVATION_DEG)
    standing = [replace(ring, height_mm=-ring.height_mm) for ring in reversed(cloth)]
    return seen(standing, _ELEVATION_DEG)[::-1]


def arc(view: View, ring: Seen, sine: float) -> str:
    """The part of a ring that is seen, by the front; empty for nothing."""
    wide = ring.ring.radius_mm * view.scale
    if sine <= _LEAST or wide < 0.5:
        return "M0 0"
    radii = f"{number(wide)} {number(max(wide * ring.flatness, 0.1))}"
    if sine >= 1:
        (left, y), (right, _) = view.at(ring, 0.0, -1), view.at(ring, 0.0, 1)
        ends = f"{number(right)} {number(y)}A{radii} 0 0 0 {number(left)} {number(y)}Z"
        return f"M{number(left)} {number(y)}A{radii} 0 0 0 {ends}"
    (left, y), (right, _) = view.at(ring, sine, -1), view.at(ring, sine, 1)
    large = int(sine > 0)
    return f"M{number(left)} {number(y)}A{radii} 0 {large} 0 {number(right)} {number(y)}"


def outlines(view: View) -> list[list[Point]]:
    """Lines where the cloth turns away from the eye; at the top and at the foot of the piece both
    sides are one line.
    """
    runs: list[list[int]] = []
    for at, ring in enumerate(view.rings):
        if ring.turns_away:
            if not runs or runs[-1][-1] != at - 1:
                runs.append([])
            runs[-1].append(at)
    return [line for run in runs if len(run) > _FEW for line in _joined(view, run)]


def _joined(view: View, run: Sequence[int]) -> list[list[Point]]:
    """Both sides of an outline, as one line where they meet at an end of it."""
    bends = [(view.rings[at], math.asin(view.rings[at].sine)) for at in run]
    first, last = (_meeting(view, run, end) for end in (0, -1))
    bends = _finer([*([first] if first else []), *bends, *([last] if last else [])])
    left, right = (
        [view.at(ring, math.sin(angle), side) for ring, angle in bends] for side in (-1, 1)
    )
    if first and last:
        return [[*left, *right[::-1]]]
    if first:
        return [[*left[::-1], *right]]
    return [[*left, *right[::-1]]] if last else [left, right]


_Bend = tuple[Seen, float]
"""A ring, and the angle at which the cloth turns away there."""


def _meeting(view: View, run: Sequence[int], end: int) -> _Bend | None:
    """The back or the front, where both sides meet; None where they do not."""
    at = run[end]
    beyond = min(max(at + (1 if end else -1), 0), len(view.rings) - 1)
    sine = view.rings[at].sine
    return (view.rings[beyond], math.copysign(math.pi / 2, sine)) if abs(sine) > _OVER else None


def _finer(bends: Sequence[_Bend]) -> list[_Bend]:
    """The same with more points where the angle changes fast."""
    found = [bends[0]]
    for (ring, angle), (following, next_angle) in pairwise(bends):
        parts = max(1, math.ceil(abs(next_angle - angle) / _STEP))
        for part in range(1, parts + 1):
            share = part / parts
            found.append((ring.towards(following, share), angle + share * (next_angle - angle)))
    return found


_OVER = 0.7
"""Sine from which on both sides of an outline meet."""
_FEW = 2
"""So few rings that turn away are no outline, but a dot."""
_STEP = math.radians(6)
