"""The section on the decorations that a maker had called. Common practice, no source."""

from __future__ import annotations

from collections.abc import Callable

from pattern.forecast.trims import BAND_OVERLAP_MM, EDGING_OVERLAP_MM, band, edging
from pattern.session.state import State
from pattern.shape.catalogue import Form
from pattern.trade.decorations import EVERY_MM, GATHERED, Decoration
from pattern.writeup.document import Items, Section
from pattern.writeup.measure_text import both_lengths, plain_length
from pattern.writeup.written_rounds import slip_name


def decorating(state: State) -> tuple[Section, ...]:
    """One item for each decoration that was called; empty without any."""
    items = tuple(_ITEMS[what](state) for what in state.decorated)
    return (Section("Decorating", (Items(items),)),) if items else ()


def _ribbon(state: State) -> str:
    unit = state.settings.unit
    return (
        f"Ribbon: cut {both_lengths(band(state).mean + BAND_OVERLAP_MM, unit)}. Fold under "
        f"{plain_length(BAND_OVERLAP_MM / 2, unit)} at one end. Pin at centre back and at each "
        f"quarter over the lower edge of the sides; tack both edges {_every(state)}. Lap the "
        "folded end over the raw end and slip stitch by needle. Remove before washing unless "
        "prewashed and colourfast."
    )


def _lace(state: State) -> str:
    unit = state.settings.unit
    flat_mm, over_mm = edging(state).mean, EDGING_OVERLAP_MM
    return (
        f"Lace: cut {both_lengths(flat_mm + over_mm, unit)}, or gathered "
        f"{both_lengths(GATHERED * flat_mm + over_mm, unit)}. Prewash. {_along_edge(state)}"
    )


def _edging(state: State) -> str:
    length = both_lengths(edging(state).mean + EDGING_OVERLAP_MM, state.settings.unit)
    return f"Edging: cut {length}. {_along_edge(state)}"


def _along_edge(state: State) -> str:
    return (
        f"Pin to the last round at the back and at each quarter, ease in between, sew through both "
        f"loops {_every(state)}; turn the end under and lap it."
    )


def _flower(state: State) -> str:
    child = " Under 3 years: crocheted flowers only, sewn flat, no buttons, beads, pins or glue."
    head = state.settings.shape.form is Form.WORN
    where = "at the lower edge of the sides, in front of one ear" if head else "where it is to sit"
    return (
        f"Flower or bow: place {where}. Back a heavy one with felt. Sew the centre with 4 stitches "
        f"in a square, doubled thread, then catch each petal once.{child}"
    )


def _stiffening(state: State) -> str:
    firm = slip_name(state.settings.terms)
    form = "Block over a form of the head's size" if state.settings.shape.for_head else "Block"
    return (
        f"Stiffening: work the last round with a hook 0.5 mm smaller or add a firm round of "
        f"{firm}; or boil 1 part starch in 16 parts water, cool, dip and squeeze. "
        f"{form} and dry for a day. Starch again after each wash."
    )


def _every(state: State) -> str:
    return f"every {plain_length(EVERY_MM, state.settings.unit)}"


_ITEMS: dict[Decoration, Callable[[State], str]] = {
    Decoration.RIBBON: _ribbon,
    Decoration.LACE: _lace,
    Decoration.EDGING: _edging,
    Decoration.FLOWER: _flower,
    Decoration.STIFFENING: _stiffening,
}
