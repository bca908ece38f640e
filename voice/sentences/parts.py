"""The crown and the brim as they end, and the depth between them."""

from __future__ import annotations

import math

from pattern.plan.crown import crown_target
from pattern.plan.piece import Piece, depth_at, girth_of
from voice.sentences.amounts import about, length, with_unit
from voice.words.spoken_numbers import say_integer

NEAR_MM = 3.0
"""A crown that measures within this of girth over pi is said to be just that; our choice."""


def crown_ended(piece: Piece, stitches: int) -> str:
    """That a crown is wide enough, or how many stitches it is short of."""
    called, short = piece.stretches[0].called, _short(piece, stitches)
    if not short:
        return f"the {called} is wide enough"
    needs = "the head needs" if piece.settings.shape.for_head else "you want"
    return f"the {called} has {say_integer(short)} stitches fewer than {needs}"


def crown_across(piece: Piece, stitches: int, rounds: float, across_mm: float | None = None) -> str:
    """Why increasing stops here, by the tape, where it was just measured; else how wide it is."""
    settings = piece.settings
    across = across_mm or piece.gauge.of((0.0, 2.0 * rounds, 2.0)).mean
    around_mm = girth_of(piece, stitches).mean
    if _short(piece, stitches):
        return f"It will be about {with_unit(around_mm, settings, 8)} around."
    opened = around_mm / math.pi
    wide = f"about {about(across, settings)}" if across_mm is None else length(across, settings)
    seen = f"The {piece.stretches[0].called} measures {wide} across"
    if across < opened - NEAR_MM:
        return f"{seen}, and that is right: it opens to {about(opened, settings)}."
    if across > opened + NEAR_MM:
        return f"{seen}; the sides draw it in to {about(opened, settings)}."
    return f"{seen}, its distance around divided by pi."


def _short(piece: Piece, stitches: int) -> int:
    """Stitches that a crown lacks, where that is more than half a round of increases; else 0."""
    short = crown_target(piece) - stitches
    return short if short > piece.settings.increases // 2 else 0


def brim_wide(piece: Piece, measured_mm: float | None) -> str:
    """The width of a brim whose last round is worked, which may just have been measured."""
    is_ = "is about" if measured_mm is None else "is"
    return f"the brim {is_} {with_unit(_brim_mm(piece, measured_mm), piece.settings, 8)}"


def one_more_round(piece: Piece, measured_mm: float | None) -> str:
    """The effect of another round of brim."""
    wider_mm = _brim_mm(piece, measured_mm) + piece.gauge.height_mm
    wider = with_unit(wider_mm, piece.settings, 8)
    return f"One more round would make the brim {wider}; say so before you fasten off."


def _brim_mm(piece: Piece, measured_mm: float | None) -> float:
    return measured_mm or piece.high(piece.brim_rounds) * piece.gauge.height_mm


def depth_so_far(piece: Piece, measured_mm: float | None = None) -> str:
    """The depth as it was just measured, or else as it is believed."""
    if measured_mm is not None:
        return f"{with_unit(measured_mm, piece.settings)} deep"
    depth = depth_at(piece, piece.finished - piece.brim_rounds).mean
    return f"about {with_unit(depth, piece.settings, 8)} deep"
