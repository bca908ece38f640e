"""The profile of one piece: the parts of its shape with their lengths and girths in mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from pattern.shape.catalogue import STAGE_OF, Asked, PartKind, ShapePart
from pattern.shape.geometry import Part, ball, brim, disc, dome, radius_at, side, taper
from pattern.shape.rounds import Stage
from pattern.shape.settings import Settings


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the profile with its planned measures."""

    part: Part
    stage: Stage
    called: str
    end_girth_mm: float
    """Planned girth at its end; for a ball, at its middle."""
    end_depth_mm: float | None = None
    """Distance of its end from the centre, along the fabric; None if its own length decides."""


@lru_cache(maxsize=256)
def profile(settings: Settings) -> tuple[Stretch, ...]:
    """Stretches of the piece, from the centre to the edge, without a brim of zero width."""
    found: list[Stretch] = []
    for described in settings.shape.parts:
        stretch = _stretch(described, settings, tuple(found))
        if stretch.stage is not Stage.BRIM or stretch.part.length_mm > 0:
            found.append(stretch)
    return tuple(found)


def parts_of(settings: Settings) -> tuple[Part, ...]:
    """The geometry of the profile."""
    return tuple(stretch.part for stretch in profile(settings))


def _stretch(described: ShapePart, settings: Settings, before: tuple[Stretch, ...]) -> Stretch:
    here = [stretch.part for stretch in before]
    along_mm = sum(part.length_mm for part in here)
    radius_mm = radius_at(here, along_mm)
    length = _length_mm(described, settings, along_mm)
    deep = settings.depth if described.length is Asked.DEPTH else None
    girth = described.girth.of(settings.girth_mm) if described.girth else math.tau * radius_mm
    part = _part(described, settings, girth / math.tau, radius_mm, length)
    return Stretch(part, STAGE_OF[described.kind], described.called, girth, deep)


def _part(
    described: ShapePart,
    settings: Settings,
    end_mm: float,
    radius_mm: float,
    length_mm: float | None,
) -> Part:
    """Geometry of a part that begins at the given radius."""
    match described.kind:
        case PartKind.DISC:
            return disc(end_mm)
        case PartKind.DOME:
            return dome(end_mm)
        case PartKind.BALL:
            return ball(end_mm)
        case PartKind.SIDE:
            return side(length_mm or 0.0)
        case PartKind.TAPER:
            return taper(radius_mm, end_mm, length_mm, described.slope_deg)
        case PartKind.BRIM:
            return brim(length_mm or 0.0, settings.slope)


def _length_mm(described: ShapePart, settings: Settings, along_mm: float) -> float | None:
    match described.length:
        case Asked.DEPTH:
            return max(settings.depth - along_mm, 0.0)
        case Asked.HEIGHT:
            return settings.height
        case Asked.BRIM:
            return settings.brim
        case None:
            return None
        case measure:
            return measure.of(settings.girth_mm)
