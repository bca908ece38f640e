"""Parts that come out wider than what is asked, because they cannot have fewer stitches."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from pattern.plan.part_ends import end_girth_mm
from pattern.plan.piece import Piece, girth_of
from pattern.plan.sides import FIT_STEPS, FITS_MM
from pattern.shape.narrowest import fewest


@dataclass(frozen=True, slots=True)
class Misfit:
    """A part that cannot be as narrow as asked, and what it can be."""

    part: int
    called: str
    stitches: int
    girth_mm: float
    """Of these stitches."""
    wanted_mm: float

    @property
    def of_ring(self) -> bool:
        """Whether it is the ring that has so many stitches."""
        return self.part == 0


def misfit(piece: Piece, part: int) -> Misfit | None:
    """Why a part does not end as narrow as asked; None where it can, or is wanted no more.

    Sides and brims go on from the part before, which tells it.
    """
    if part >= len(piece.stretches):
        return None
    stretch, least = piece.stretches[part], fewest(piece.settings, part)
    if stretch.shaping.goes_on:
        return None
    can_mm, wanted_mm = girth_of(piece, least).mean, end_girth_mm(piece, part)
    if can_mm - wanted_mm <= max(FITS_MM, FIT_STEPS * piece.gauge.width_mm):
        return None
    return Misfit(part, stretch.called, least, can_mm, wanted_mm)


def misfits(piece: Piece) -> Iterator[Misfit]:
    """Those of all parts."""
    found = (misfit(piece, part) for part in range(len(piece.stretches)))
    return (one for one in found if one is not None)
