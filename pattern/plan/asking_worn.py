"""When a piece is worth trying on: in place of a reading of the tape, or where there is none."""

from __future__ import annotations

from pattern.plan.asking import (
    BAND_AHEAD,
    SETTLED,
    SLOPE_TOLERANCE_MM,
    Asking,
    for_brim,
)
from pattern.plan.brim import brim_total
from pattern.plan.piece import Piece, left_in
from pattern.plan.readings import Want, girth_finished
from pattern.plan.sides import band_rounds
from pattern.plan.trying_on import Means, sits_now
from pattern.shape.reading_kinds import TAPE, Kind

WORN_TOLERANCE_MM = 16.0
"""Two standard deviations of the girth wider than this, and the sides are worth trying on once
more. No source; set while looking at `tests.bench fit`, seeds 1 to 3."""
ON_SIDES = 6
"""Times that the sides are to be tried on at the most; our choice."""
APART = 2
"""Rounds from one trying on to the next, so that a correction shows; our choice."""
EDGE_ROUNDS = 5.0
"""Rounds before the end from which on it is seen where the edge ends; our choice."""
SEEN_ROUNDS = 2.0
"""The same beside the tape, before the last reading above the band; our choice."""


def by_means(piece: Piece, asking: Asking, want: Want | None, means: Means) -> Want | None:
    """The reading to ask for with what there is to measure with, where `want` is that of a tape."""
    worn = piece.settings.shape.for_head
    if not means.tape:
        by_look = want if want is not None and want.kind not in TAPE else None
        return by_look or (_without_tape(piece, asking) if worn and means.tries_on else None)
    if not worn or not means.tries_on:
        return want
    if want is None or want.kind is Kind.DEPTH:
        return Want(Kind.EDGE) if _edge_due(piece, asking) else None
    if want.kind is Kind.BRIM:
        return Want(Kind.WORN)
    if want.kind is Kind.AROUND and _tape_comes_again(piece):
        return Want(Kind.FIT)
    return None if _for_height(piece, want) else want


def _tape_comes_again(piece: Piece) -> bool:
    """Whether the sides have just settled, so that a word will do for now: before their band they
    are measured around once more, if that is still worth it. No source; set while looking at the
    worn part of `tests.bench fit`, seeds 1 to 3 and 300 makers: one reading fewer, and as many fit.
    """
    above = left_in(piece, piece.index).mean - band_rounds(piece)
    return piece.shaping.straight and piece.side_rounds <= SETTLED and above >= BAND_AHEAD


def _edge_due(piece: Piece, asking: Asking) -> bool:
    """Whether it is to be seen on the head now where the sides end."""
    if not sits_now(piece) or "depth_mm" not in piece.settings.shape.asked:
        return False
    band = band_rounds(piece) if piece.shaping.straight else 0.0
    above = left_in(piece, piece.index).mean - band
    return above < SEEN_ROUNDS and asking.edge_since > APART


def _for_height(piece: Piece, want: Want) -> bool:
    """Whether a reading of the crown is for the depth, which the head will tell."""
    across = want.kind in {Kind.ACROSS, Kind.CORNERS} and len(piece.stretches) > 1
    return across and 2 * girth_finished(piece).sd <= SLOPE_TOLERANCE_MM


def _without_tape(piece: Piece, asking: Asking) -> Want | None:
    if piece.shaping.flared:
        return Want(Kind.WORN) if for_brim(piece, asking) or _brim_ends(piece, asking) else None
    if not sits_now(piece) or asking.times >= ON_SIDES:
        return None
    left = left_in(piece, piece.index).mean
    above, unsure = left - band_rounds(piece), 2 * girth_finished(piece).sd
    if left < 0.5:
        return Want(Kind.FIT) if asking.since >= 1 else None
    if piece.shaping.tapers:
        return Want(Kind.FIT) if asking.since >= 1 and unsure > WORN_TOLERANCE_MM else None
    apart = APART if above >= APART else 1
    settled = piece.side_rounds == SETTLED or (
        piece.side_rounds > SETTLED and asking.since >= apart
    )
    return Want(Kind.FIT) if settled and unsure > WORN_TOLERANCE_MM else None


def edge_near(piece: Piece) -> bool:
    """Whether the sides are so deep that it is worth seeing where their edge ends."""
    return left_in(piece, piece.index).mean < EDGE_ROUNDS


def _brim_ends(piece: Piece, asking: Asking) -> bool:
    """Whether the last round of the brim is made, and how it falls was not asked just now."""
    return brim_total(piece) <= piece.brim_rounds and asking.since >= 1
