"""The measures of a finished piece by name, and where each lies on it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate

from pattern.gauge.estimate import Estimate
from pattern.plan.piece import girth_of
from pattern.session.state import State
from pattern.shape.profile import profile
from pattern.shape.settings import Settings
from pattern.trade.lengths import Unit
from pattern.writeup.measure_text import trade_length
from pattern.writeup.measures import Measures, around_what, as_found, measures, wide_top_mm


@dataclass(frozen=True, slots=True)
class Named:
    """A measure of the finished piece; lengths along the cloth count from its centre."""

    name: str
    unit: Unit
    """The maker's."""
    found: Estimate
    worked_to_mm: float
    wanted_mm: float
    """Differs from the one worked to where washing changes it."""
    end_mm: float
    """Where it lies or ends."""
    begin_mm: float | None = None
    """Where it begins, if it is taken along the cloth."""
    around: bool = False
    """Whether it is taken around, and not across."""

    @property
    def value(self) -> str:
        """The measure as patterns give it."""
        return trade_length(self.found.mean, self.unit)


def named_measures(end: State) -> tuple[Named, ...]:
    """The measures of a piece at its planned end."""
    return tuple(_named(end, measures(end.piece)))


def _named(end: State, found: Measures) -> Iterator[Named]:
    piece, wanted = end.piece, end.settings
    asked, settings, unit = wanted.shape.asked, end.piece.settings, wanted.unit
    stretches = profile(as_found(settings, found))
    ends = list(accumulate(stretch.part.length_mm for stretch in stretches))
    fitted = max((at for at, one in enumerate(stretches) if not one.shaping.flared), default=0)
    edge = ends[fitted]
    if "across_mm" in asked:
        middle = edge / 2 if stretches[0].shaping.closed else edge
        yield Named("Width across", unit, found.across, settings.across, wanted.across, middle)
    else:
        around = settings.girth_mm, wanted.girth_mm
        yield Named(around_what(piece), unit, found.girth, *around, edge, around=True)
        if (top_mm := wide_top_mm(settings)) is not None:
            widest = max((made.round.after for made in end.rounds_made()), default=0)
            across = girth_of(piece, widest)
            top = Estimate(across.mean / math.pi, across.sd / math.pi)
            yield Named("Width across the top", unit, top, top_mm, top_mm, ends[0])
    if "depth_mm" in asked:
        yield Named("Depth", unit, found.depth, settings.depth, wanted.depth, edge, 0.0)
    if "height_mm" in asked:
        sides = piece.gauge.of((0.0, float(piece.side_rounds), 0.0))
        yield Named(
            "Height", unit, sides, settings.height, wanted.height, edge, edge - settings.height
        )
    if found.brim is not None:
        yield Named("Brim", unit, found.brim, settings.brim, wanted.brim, ends[-1], edge)


def head_mm(settings: Settings) -> float:
    """Circumference of the head that a piece is for."""
    return settings.girth_mm - settings.ease_mm
