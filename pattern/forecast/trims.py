"""Lengths of trims (a band or an edging), from the estimated girths of the piece."""

from __future__ import annotations

from pattern.forecast.rest_of_piece import piece_planned
from pattern.gauge.estimate import Estimate
from pattern.plan.piece import girth_of
from pattern.plan.readings import girth_finished
from pattern.session.state import State
from pattern.trade.cautions import brim_for_shade_mm

BAND_OVERLAP_MM, EDGING_OVERLAP_MM = 20.0, 10.0
"""Overlap at the seam of a band, and of an edging. Common practice, no source."""
BROAD_FROM_YEARS, BROAD_BRIM_MM = 12.0, 75.0
"""Age from which a broad brim is advised for shade, and its width; `brim_for_shade_mm` has the
widths for a bucket hat. Source: cancer councils of Australia and New Zealand."""


def band(state: State) -> Estimate:
    """Girth where a band lies, at the bottom of the sides, after washing."""
    return _washed(state, girth_finished(piece_planned(state)))


def edging(state: State) -> Estimate:
    """Girth of the last round, after washing."""
    end = piece_planned(state)
    return _washed(state, girth_of(end, end.stitches))


def _washed(state: State, girth: Estimate) -> Estimate:
    ratio = state.washing.width if state.washing else 1.0
    return Estimate(girth.mean * ratio, girth.sd * ratio)


def shade_lacks_mm(state: State) -> float:
    """Width in mm that the brim lacks of the one advised for shade; 0 or less if it lacks none."""
    settings = state.settings
    return brim_for_shade_mm(settings.age_years) - settings.brim
