"""Measures of a piece, with their spread."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from pattern.gauge.estimate import Estimate
from pattern.plan.piece import Piece, depth_at, girth_of
from pattern.plan.readings import girth_finished
from pattern.shape.catalogue import Form
from pattern.shape.profile import profile
from pattern.shape.settings import Settings


@dataclass(frozen=True, slots=True)
class Measures:
    """Measures of a piece, in mm."""

    girth: Estimate
    across: Estimate
    """Diameter of the girth as a circle; for a flat piece, twice the distance from centre to
    edge."""
    depth: Estimate
    brim: Estimate | None


def measures(piece: Piece) -> Measures:
    """Measures of a piece so far; until it has sides, its edge counts as its girth."""
    fitted = piece.index > 0 or piece.shaping.closed
    girth = girth_finished(piece) if fitted else girth_of(piece, piece.stitches)
    brim = piece.gauge.of((0.0, piece.high(piece.brim_rounds), 0.0))
    depth = depth_at(piece, piece.finished - piece.brim_rounds)
    flat = piece.settings.shape.form is Form.FLAT
    by, of = (math.pi, girth) if not flat else (0.5, depth)
    across = Estimate(of.mean / by, of.sd / by)
    return Measures(girth, across, depth, brim if piece.brim_rounds else None)


def around_what(piece: Piece) -> str:
    """The name of the circumference that has to fit; below a wide top with the part's own."""
    sides = [part.called for part in piece.stretches if part.shaping.straight]
    if not sides or wide_top_mm(piece.settings) is None:
        return "Circumference"
    return f"Circumference of the {sides[-1]}"


WIDE_TOP = 1.2
"""A top so many times as wide as the head is shaped over a plate, and named; our choice."""


def wide_top_mm(settings: Settings) -> float | None:
    """Width across that a wide top is to have; None for any other piece."""
    if settings.shape.form is not Form.WORN:
        return None
    widest = max(stretch.end_girth_mm for stretch in profile(settings))
    return widest / math.pi if widest > WIDE_TOP * settings.girth_mm else None


def as_found(settings: Settings, found: Measures) -> Settings:
    """The settings that would ask for exactly the measures found."""
    girth = found.girth.mean
    brim = found.brim.mean if found.brim else 0.0
    if not settings.shape.for_head:
        return replace(settings, across_mm=found.across.mean)
    return replace(
        settings, head_mm=girth - settings.ease_mm, depth_mm=found.depth.mean, brim_mm=brim
    )
