"""A flared brim: how many rounds it has, and its increases."""

from __future__ import annotations

import math

from pattern.plan.piece import Piece, edge_mm
from pattern.shape.easy import easiest
from pattern.shape.geometry import brim as brim_part
from pattern.shape.reading_kinds import Look

OWN_TURN, OUT_OF_TURN = 0.75, 1.25
"""Rounds of growth that are due before a round has increases, by turns; our choice."""


def brim_total(piece: Piece) -> int:
    """Rounds in the brim, to the nearest."""
    width, lower = piece.settings.brim, piece.brim_rounds - piece.high(piece.brim_rounds)
    return max(round(width / piece.gauge.height_mm + lower), 1) if width > 0 else 0


def brim_stitches(piece: Piece, rounds: float) -> float:
    """Stitches that lie at the brim's slope and fullness after so many of its rounds."""
    width, worked = piece.gauge.width_mm, piece.brim_rounds
    radius = edge_mm(piece, width) / math.tau
    along = max(rounds - worked + piece.high(worked), 0.0) * piece.gauge.height_mm
    outward = brim_part(along, piece.settings.slope).outward_mm(along)
    return piece.settings.fullness * math.tau * (radius + outward) / width


def brim_change(piece: Piece) -> int:
    """Increases of the next brim round: about two rounds' growth, or none on the rounds between.

    Every other round, from the first on, has increases in a brim of any size, unless it is far off.
    """
    rounds, total = piece.brim_rounds + 1, brim_total(piece)
    if piece.look is Look.RIPPLES:
        return 0
    growth = brim_stitches(piece, rounds) - brim_stitches(piece, rounds - 1)
    due = brim_stitches(piece, rounds) - piece.stitches
    if due < (OWN_TURN if rounds % 2 else OUT_OF_TURN) * growth and piece.look is not Look.CUPS:
        return 0
    ahead = brim_stitches(piece, min(rounds + 1, total)) - piece.stitches
    wanted = max((due + ahead) / 2, 1.0)
    slack = growth / (3 if rounds + 1 < total else 6)  # no later round makes up for the last ones
    return easiest(piece.stitches, min(wanted, piece.stitches), slack)
