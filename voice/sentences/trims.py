"""Bands and edgings: how long, and where they are tacked; and whether a brim is wide for shade."""

from __future__ import annotations

from pattern.forecast.trims import (
    BAND_OVERLAP_MM,
    BROAD_BRIM_MM,
    BROAD_FROM_YEARS,
    EDGING_OVERLAP_MM,
    band,
    edging,
    shade_lacks_mm,
)
from pattern.gauge.estimate import Estimate
from pattern.session.state import State
from pattern.shape.catalogue import Form
from pattern.shape.rounds import Stage
from pattern.trade.cautions import CAUTIONS, brim_for_shade_mm
from voice.sentences.amounts import joined, length, with_unit
from voice.sentences.finishing import CHILD_GIRTH_MM

NO_BAND = "Only what is worn has a band; ask how long an edging."
_UNDER_YEARS = {caution.key: caution.under_years or 0.0 for caution in CAUTIONS}
CORDS_UNDER_YEARS, SMALL_UNDER_YEARS = _UNDER_YEARS["cords"], _UNDER_YEARS["small parts"]


def for_band(state: State) -> str:
    """How long a band is, and how it is put on: common practice, no source."""
    if state.settings.shape.form is not Form.WORN:
        return NO_BAND
    return joined(
        length_of_band(state),
        loose_ends(state),
        "Cut it when the hat is washed and dry; tack it at the back and at each quarter, "
        "over the last round of the sides, and do not draw it tight.",
    )


def for_edging(state: State) -> str:
    """How long an edging is, and how it is put on: common practice, no source."""
    if state.settings.shape.form is Form.CLOSED:
        return "What is closed has no edge."
    return joined(
        length_of_edging(state),
        loose_ends(state),
        "Begin at the back, tack it at each quarter first, and ease it in between.",
    )


def shade(state: State) -> str:
    """The brim against the width advised for shade; nothing is claimed of protection."""
    settings = state.settings
    if not settings.brim:
        return "It has no brim, so it gives the face no shade."
    advised = with_unit(brim_for_shade_mm(settings.age_years), settings, 8)
    lacks = shade_lacks_mm(state)
    wide = with_unit(settings.brim, settings, 8)
    done = state.stage in {Stage.FINISHING, Stage.DONE}
    has = f"it has {wide}" if done else f"it will have {wide} when it is done"
    said = f"Yes: {has}, and {advised} is advised for shade."
    if lacks > 0.5:
        said = f"No: {has}, and {advised} is advised for shade, {length(lacks, settings, 8)} more."
    grown = settings.age_years is None or settings.age_years >= BROAD_FROM_YEARS
    broad = f"A broad brim has {with_unit(BROAD_BRIM_MM, settings, 8)}." if grown else ""
    return joined(said, broad, "Shade is no tested protection.")


def length_of_band(state: State) -> str:
    """The length of a band with its overlap."""
    return _long(band(state), BAND_OVERLAP_MM, state)


def length_of_edging(state: State) -> str:
    """The length of an edging with its overlap."""
    return _long(edging(state), EDGING_OVERLAP_MM, state)


def _long(girth: Estimate, overlap_mm: float, state: State) -> str:
    settings = state.settings
    whole = with_unit(girth.mean + overlap_mm, settings, 8)
    around, over = length(girth.mean, settings, 8), length(overlap_mm, settings, 8)
    give = length(max(girth.sd, 1.0), settings, 8)
    return (
        f"{whole}: {around} around, and {over} to overlap. "
        f"Give or take {give}, so measure before you cut."
    )


def may_be_under(state: State, years: float) -> bool:
    """Whether who it is for may be younger; a small head of unknown age may, and so may whoever
    plays with a ball.
    """
    settings = state.settings
    if settings.age_years is not None:
        return settings.age_years < years
    if not settings.shape.for_head:
        return settings.shape.form is Form.CLOSED
    return settings.head < CHILD_GIRTH_MM


def loose_ends(state: State) -> str:
    """The caution for what hangs off a child's hat; nothing for what is not worn."""
    age = state.settings.age_years
    worn = state.settings.shape.form is Form.WORN
    if not worn or not may_be_under(state, CORDS_UNDER_YEARS):
        return ""
    child = "" if age is not None else "for a child under seven, "
    return f"{child}no loose ends, no ties, and no small parts that come off."
