"""The piece as it stands: rings of its cloth from the centre to the edge, its folds rounded."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from pattern.shape.geometry import Part

STEPS = 120
"""Number of rings that a piece is drawn from."""
_FOLD = 0.16
"""Share of the length from centre to edge over which a fold is rounded: cloth has no sharp edges;
our choice."""


@dataclass(frozen=True, slots=True)
class Ring:
    """A level circle of the cloth, in mm."""

    along_mm: float
    """Distance from the centre, along the cloth."""
    radius_mm: float
    height_mm: float
    """Above the centre of the piece, which is the top of a hat: 0 or less."""


def rings(parts: Sequence[Part]) -> tuple[Ring, ...]:
    """Rings of the cloth, from the centre on; lengths along it are those of the parts."""
    whole = sum(part.length_mm for part in parts)
    step = whole / STEPS
    slopes = _rounded([_slope_deg(parts, (at + 0.5) * step) for at in range(STEPS)])
    out = accumulate((step * math.cos(math.radians(slope)) for slope in slopes), initial=0.0)
    down = accumulate((step * math.sin(math.radians(slope)) for slope in slopes), initial=0.0)
    return tuple(
        Ring(at * step, max(radius, 0.0), -fall)
        for at, (radius, fall) in enumerate(zip(out, down, strict=True))
    )


def _slope_deg(parts: Sequence[Part], along_mm: float) -> float:
    for part in parts:
        if along_mm <= part.length_mm:
            share = along_mm / part.length_mm if part.length_mm else 0.0
            return part.start_deg + (part.end_deg - part.start_deg) * share
        along_mm -= part.length_mm
    return parts[-1].end_deg


def _rounded(slopes: Sequence[float]) -> list[float]:
    """Means over a stretch on both sides, which shrinks towards the ends: they stay as they are."""
    sums = list(accumulate(slopes, initial=0.0))
    most = round(_FOLD * len(slopes) / 2)
    found = []
    for at in range(len(slopes)):
        reach = min(most, at, len(slopes) - 1 - at)
        found.append((sums[at + reach + 1] - sums[at - reach]) / (2 * reach + 1))
    return found


@dataclass(frozen=True, slots=True)
class Seen:
    """How a level ring of a solid is seen from above: an ellipse, of which a part is covered.

    Angles count from the right; they are below 0 at the front. x goes right and y up, in mm.
    """

    ring: Ring
    up_mm: float
    """Where its middle is seen."""
    flatness: float
    """Height of the ellipse over its width."""
    sine: float
    """Sine of the angle up to which it is seen: 1 for all of it, -1 for nothing."""
    turns_away: bool
    """Whether the cloth turns away from the eye at that angle, so that its outline is there."""

    def point(self, sine: float, side: int = 1) -> tuple[float, float]:
        """The point at the angle with this sine, on the right (1) or on the left (-1)."""
        wide = self.ring.radius_mm * math.sqrt(max(1 - sine * sine, 0.0))
        return side * wide, self.up_mm + self.ring.radius_mm * sine * self.flatness

    def towards(self, other: Seen, share: float) -> Seen:
        """A ring a share of the way to another."""
        radius = self.ring.radius_mm + share * (other.ring.radius_mm - self.ring.radius_mm)
        up_mm = self.up_mm + share * (other.up_mm - self.up_mm)
        return replace(self, ring=replace(self.ring, radius_mm=radius), up_mm=up_mm)


def seen(rings_: Sequence[Ring], elevation_deg: float) -> tuple[Seen, ...]:
    """The rings of a solid, the highest first, seen from above; 90 degrees is straight above.

    A point of a ring is covered if it lies inside a higher one, as seen along the eye. Stretched
    upward, all ellipses are circles, so that the points of a ring from one angle on are covered.
    """
    eye = math.radians(elevation_deg)
    steep = 1 / math.tan(eye)
    found = []
    for at, ring in enumerate(rings_):
        covers = [_cover(ring, higher, steep) for higher in rings_[:at]]
        far = min(covers[:-_NEAR], default=1.0)
        own = _tangent(ring, rings_[at - 1], steep) if at else 1.0
        turns = abs(own) < 1 and own <= far + _SLACK
        up = ring.height_mm * math.cos(eye)
        found.append(Seen(ring, up, math.sin(eye), min(own, far), turns))
    return tuple(found)


def _cover(ring: Ring, higher: Ring, steep: float) -> float:
    """Sine of the angle from which on a ring lies inside a higher one."""
    apart = (higher.height_mm - ring.height_mm) * steep
    if apart < 1e-6 or ring.radius_mm < 1e-6:
        return -1.0 if higher.radius_mm > ring.radius_mm + 1e-6 else 1.0
    over = ring.radius_mm**2 + apart**2 - higher.radius_mm**2
    return max(-1.0, min(1.0, over / (2 * apart * ring.radius_mm)))


def _tangent(ring: Ring, higher: Ring, steep: float) -> float:
    """The same for the next ring above: the cloth between both is straight, and covers up to the
    line that touches both circles.
    """
    apart = (higher.height_mm - ring.height_mm) * steep
    if apart < 1e-6 or ring.radius_mm < 1e-6:
        return _cover(ring, higher, steep)
    return max(-1.0, min(1.0, (ring.radius_mm - higher.radius_mm) / apart))


_NEAR, _SLACK = 3, 0.03
"""Rings so near to each other cover nearly alike, and so much is no other part that covers."""
