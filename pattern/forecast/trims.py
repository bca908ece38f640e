"""Lengths of what is put on a piece, from its girths as they are known."""

from __future__ import annotations

from pattern.forecast.rest_of_piece import planned_end
from pattern.gauge.estimate import Estimate
from pattern.plan.piece import girth_of
from pattern.plan.readings import girth_finished
from pattern.session.state import State
from pattern.trade.tables import brim_for_shade_mm

BAND_OVERLAP_MM, EDGING_OVERLAP_MM = 20.0, 10.0
"""What is sewn over itself at the end of a band, or of an edging: common practice, no source."""
BROAD_FROM_YEARS, BROAD_BRIM_MM = 12.0, 75.0
"""A broad brim for shade, from this age on; the widths of `brim_for_shade_mm` are those of a bucket
hat. Source: cancer councils of Australia and New Zealand."""


def band(state: State) -> Estimate:
    """The girth that a band lies on: the foot of the sides, as it is after washing."""
    return _washed(state, girth_finished(planned_end(state).piece))


def edging(state: State) -> Estimate:
    """The girth of the last round, as it is after washing."""
    end = planned_end(state).piece
    return _washed(state, girth_of(end, end.stitches))


def _washed(state: State, girth: Estimate) -> Estimate:
    ratio = state.washing.width if state.washing else 1.0
    return Estimate(girth.mean * ratio, girth.sd * ratio)


def shade_lacks_mm(state: State) -> float:
    """By how much the brim is narrower than advised for shade at that age; 0 or less when not."""
    settings = state.settings
    return brim_for_shade_mm(settings.age_years) - settings.brim
