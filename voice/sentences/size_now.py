"""The size that the piece should have by now, and the one at which the part in work ends."""

from __future__ import annotations

import math

from pattern.plan.next_round import next_part, rounds_of
from pattern.plan.piece import girth_of
from pattern.session.commands import Kind
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Unit
from voice.sentences import parts
from voice.sentences.amounts import about_with_unit, counted, decimal, joined, with_unit
from voice.sentences.measured_now import measured_now
from voice.sentences.measured_now import told as length_told
from voice.sentences.normal import FLAT_WITHIN


def told(state: State) -> str:
    """How wide, how far around or how deep it should be after the rounds that are worked."""
    piece = state.piece
    if state.stage is Stage.SETUP or not piece.finished:
        ends = _first_part_ends(state) if state.stage is not Stage.SETUP else ""
        return joined("nothing is worked yet.", ends)
    after = f"after {counted(piece.finished, 'round')}"
    measured, settings = measured_now(state), piece.settings
    if piece.shaping.flared:
        believed_mm = piece.high(piece.brim_rounds) * piece.gauge.height_mm
        wide = length_told(measured.get(Kind.BRIM), believed_mm, settings)
        to = with_unit(settings.brim, settings, 8)
        is_ = "is" if Kind.BRIM in measured else "should be"
        return joined(f"the brim {is_} {wide} wide now, of {to}.")
    if piece.shaping.flat:
        believed_mm = piece.gauge.of((0.0, 2.0 * piece.finished, 2.0)).mean
        wide = length_told(measured.get(Kind.ACROSS), believed_mm, settings)
        return joined(f"{wide} across, {after}.", _first_part_ends(state))
    believed_mm = girth_of(piece, piece.stitches).mean
    around = length_told(measured.get(Kind.AROUND), believed_mm, settings)
    deep = parts.depth_so_far(piece, measured.get(Kind.DEPTH))
    return joined(f"{around} around, and {deep}, {after}.")


def _first_part_ends(state: State) -> str:
    """The width of the first part at its end, where it lies flat; else the distance around.

    Its stitches end it, as they must fit around. Where it does not lie flat by what was measured or
    seen, it is then wider or narrower than what fits around says, and both are told.
    """
    piece = state.piece
    first, settings = piece.stretches[0], piece.settings
    measured = next(state.readings_taken(), None) is not None
    around = about_with_unit(first.end_girth_mm, settings)
    if not first.shaping.flat:
        return f"The {first.called} ends about {around} around."
    flat_mm = first.end_girth_mm / math.pi
    left = rounds_of(piece, 0, piece.finished) if next_part(piece) == 0 else 0
    ends_mm = piece.gauge.of((0.0, 2.0 * (piece.finished + left), 2.0)).mean
    now_mm = piece.gauge.of((0.0, 2.0 * piece.finished, 2.0)).mean
    grows = now_mm + 2 * piece.gauge.height_mm < flat_mm
    if (not measured and grows) or abs(ends_mm / flat_mm - 1) <= FLAT_WITHIN:
        across = about_with_unit(max(flat_mm, now_mm), settings)
        return f"The {first.called} ends about {across} across."
    across = about_with_unit(ends_mm, settings)
    return f"The {first.called} ends about {across} across, and {around} around."


_OVER_MM = {Unit.INCH: 101.6}
_OVER_METRIC_MM = 100.0
"""Lengths that gauge is told over: four inches, or ten centimetres, as on ball bands."""


def gauge(state: State) -> str:
    """Stitches and rounds in ten centimetres or four inches, and whether they were measured."""
    if state.stage is Stage.SETUP:
        return "I don't know your gauge yet: it shows when you measure."
    settings = state.settings
    over = _OVER_MM.get(settings.unit, _OVER_METRIC_MM)
    stitches = decimal(round(2 * over / state.piece.gauge.width_mm) / 2)
    rounds = decimal(round(2 * over / state.piece.gauge.height_mm) / 2)
    measured = next(state.readings_taken(), None) is not None or state.swatches
    source = "by what you measured" if measured else "as is usual; measure, and I learn yours"
    return (
        f"About {stitches} stitches and {rounds} rounds in {with_unit(over, settings)}, {source}."
    )
