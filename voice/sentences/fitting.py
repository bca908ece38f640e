"""How sides and brim come out: what a correction does, and how the brim is going to lie."""

from __future__ import annotations

from pattern.plan.brim import brim_stitches
from pattern.plan.piece import Piece, girth_of
from pattern.plan.sides import correction
from pattern.shape.rounds import Round
from voice.sentences.amounts import about_with_unit, joined
from voice.words.spoken_numbers import say_integer

RIPPLE, DROOP = 1.07, 0.93
"""Fullness of a brim above which its edge is wavy, and below which it pulls down. Common practice,
one worker's test: flat within about 7 %."""


def fit(piece: Piece) -> str:
    """How the sides fit, and what the correction does."""
    off = girth_of(piece, piece.stitches).mean - piece.settings.girth_mm
    change = correction(piece)
    if not change:
        return "That fits."
    way = "over" if off > 0 else "under"
    does = f"take out {say_integer(-change)}" if change < 0 else f"add {say_integer(change)}"
    return joined(
        f"{about_with_unit(abs(off), piece.settings)} {way}.",
        f"The next round will {does}, evenly.",
    )


def brim_lies(piece: Piece, offered: Round) -> str:
    """Whether the brim is going to ripple or droop with the offered round; nothing when neither.

    A round of increases serves two rounds, so a round's growth either way is as it should be.
    """
    rounds = piece.brim_rounds
    if offered.after > RIPPLE * brim_stitches(piece, rounds + 2):
        return "It will ripple a little."
    return "It will droop a little." if offered.after < DROOP * brim_stitches(piece, rounds) else ""
