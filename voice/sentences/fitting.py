"""How sides and brim come out: what a correction does, and how the brim is going to lie."""

from __future__ import annotations

from pattern.plan.brim import brim_stitches
from pattern.plan.piece import Piece, girth_of
from pattern.plan.sides import FITS_MM, WORTH_MM, correction
from pattern.shape.rounds import Round
from voice.sentences.amounts import about_with_unit, joined, with_unit
from voice.words.spoken_numbers import say_integer

TOLD_MM = 3.0
"""Sides no further off than this are said to fit and no more: about half of what a tape shows, a
quarter of an inch or half a centimetre. Our choice."""
RIPPLE, DROOP = 1.07, 0.93
"""Fullness of a brim above which its edge is wavy, and below which it pulls down. Common practice,
one worker's test: flat within about 7 %."""


def fit(piece: Piece, *, ended: bool = False) -> str:
    """How the sides fit, and what the correction does; what is too little for one is told.

    Sides that have `ended` are not corrected any more.
    """
    off = girth_of(piece, piece.stitches).mean - piece.settings.girth_mm
    change, way = 0 if ended else correction(piece), "over" if off > 0 else "under"
    if not change and abs(off) <= TOLD_MM:
        return "That fits."
    told = f"{about_with_unit(abs(off), piece.settings)} {way}"
    if change and abs(off) < 2 * WORTH_MM:  # roughly, it would be no more than what is left alone
        told = f"{with_unit(abs(off), piece.settings, 8)} {way}"
    if not change:
        return joined(f"{told}: that fits." if abs(off) <= FITS_MM else f"{told}.")
    does = f"take out {say_integer(-change)}" if change < 0 else f"add {say_integer(change)}"
    return joined(f"{told}.", f"The next round will {does}, evenly.")


def brim_lies(piece: Piece, offered: Round) -> str:
    """Whether the brim is going to ripple or droop with the offered round; nothing when neither.

    A round of increases serves two rounds, so a round's growth either way is as it should be.
    """
    rounds = piece.brim_rounds
    if offered.after > RIPPLE * brim_stitches(piece, rounds + 2):
        return "It will ripple a little."
    return "It will droop a little." if offered.after < DROOP * brim_stitches(piece, rounds) else ""
