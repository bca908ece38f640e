"""The profile of one piece: the parts of its shape with their lengths and girths in mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from pattern.shape.catalogue import ShapePart
from pattern.shape.geometry import Part, radius_at
from pattern.shape.part_kinds import KINDS, Asked, Given, Shaping
from pattern.shape.rounds import Stage
from pattern.shape.settings import Settings


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the profile with its planned measures."""

    part: Part
    stage: Stage
    called: str
    end_girth_mm: float
    """Girth at its end as planned; of a ball, that of its middle."""
    end_depth_mm: float | None
    """Where it ends, along the cloth from the centre; None where its own length decides."""
    shaping: Shaping
    """How its fabric lies."""


@lru_cache(maxsize=256)
def profile(settings: Settings) -> tuple[Stretch, ...]:
    """Stretches of the piece, from the centre to the edge, without a brim of zero width."""
    found: list[Stretch] = []
    for described in settings.shape.parts:
        stretch = _stretch(described, settings, tuple(found))
        if not stretch.shaping.flared or stretch.part.length_mm > 0:
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
    given = Given(radius_mm, girth / math.tau, length, described.slope_deg, settings.slope)
    row = KINDS[described.kind]
    part = row.geometry(given)
    return Stretch(part, row.stage, described.called, girth, deep, row.shaping)


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
