"""The crown as it ends, the brim as it begins, and the depth between them."""

from __future__ import annotations

import math

from pattern.plan.brim import brim_total
from pattern.plan.crown import crown_target
from pattern.plan.piece import Piece, depth_at, girth_of
from voice.sentences.amounts import about, counted, joined, length, with_unit
from voice.words.spoken_numbers import say_integer

NEAR_MM = 3.0
"""A crown that measures within this of girth over pi is said to be just that; our choice."""


def crown_ends(piece: Piece, stitches: int, rounds: float, across_mm: float | None = None) -> str:
    """Why increasing stops here, by the stitches and by the tape, where it was just measured."""
    settings, called = piece.settings, piece.stretches[0].called
    across = across_mm or piece.gauge.of((0.0, 2.0 * rounds, 2.0)).mean
    opened = girth_of(piece, stitches).mean / math.pi
    short = crown_target(piece) - stitches
    if short > piece.settings.increases // 2:
        around = with_unit(girth_of(piece, stitches).mean, settings, 8)
        needs = "the head needs" if settings.shape.for_head else "you want"
        return joined(
            f"{counted(stitches, 'stitch', 'stitches')}, {say_integer(short)} fewer than "
            f"{needs}: it will be about {around} around."
        )
    wide = f"about {about(across, settings)}" if across_mm is None else length(across, settings)
    seen = f"it measures {wide} across"
    if across < opened - NEAR_MM:
        why = f", and that is right: it opens to {about(opened, settings)}."
    elif across > opened + NEAR_MM:
        why = f"; the sides draw it in to {about(opened, settings)}."
    else:
        why = ", its distance around divided by pi."
    return joined(
        f"{counted(stitches, 'stitch', 'stitches')}: the {called} is wide enough.", seen + why
    )


def brim_begins(piece: Piece) -> str:
    """The width and the rounds of the coming brim."""
    rounds = counted(brim_total(piece), "round")
    return f"Now the brim: {rounds}, {with_unit(piece.settings.brim, piece.settings, 8)} wide."


def one_more_round(piece: Piece, measured_mm: float | None, *, asked: bool) -> str:
    """The effect of another round of brim, which may just have been measured; `asked` where it is
    asked how the brim falls, too.
    """
    settings, height_mm = piece.settings, piece.gauge.height_mm
    width_mm = measured_mm or piece.high(piece.brim_rounds) * height_mm
    wider = with_unit(width_mm + height_mm, settings, 8)
    is_ = "is about" if measured_mm is None else "is"
    return joined(
        f"the brim {is_} {with_unit(width_mm, settings, 8)}.",
        f"One more round would make it {wider}{'' if asked else '; say so before you fasten off'}.",
    )


def depth_so_far(piece: Piece, measured_mm: float | None = None) -> str:
    """The depth as it was just measured, or else as it is believed."""
    if measured_mm is not None:
        return f"{with_unit(measured_mm, piece.settings)} deep"
    depth = depth_at(piece, piece.finished - piece.brim_rounds).mean
    return f"about {with_unit(depth, piece.settings, 8)} deep"
