"""A flared brim: how many rounds it has, and its increases."""

from __future__ import annotations

import math

from pattern.commands import Look
from pattern.easy import easiest
from pattern.piece import Piece
from pattern.shape import brim as brim_part


def brim_total(piece: Piece) -> int:
    """Rounds in the brim, to the nearest."""
    width = piece.settings.brim
    return max(round(width / piece.gauge.height_mm), 1) if width > 0 else 0


def brim_stitches(piece: Piece, rounds: float) -> float:
    """Stitches that lie at the brim's slope and fullness after so many of its rounds."""
    edge = (piece.edge_stitches if piece.brim_rounds else 0) or piece.stitches
    width, height = piece.gauge.width_mm, piece.gauge.height_mm
    radius = edge * width / math.tau
    outward = brim_part(rounds * height, piece.settings.slope).outward_mm(rounds * height)
    return piece.settings.fullness * math.tau * (radius + outward) / width


def brim_change(piece: Piece) -> int:
    """Increases of the next brim round: about two rounds' growth, or none on the rounds between."""
    rounds, total = piece.brim_rounds + 1, brim_total(piece)
    if piece.look is Look.RIPPLES:
        return 0
    growth = brim_stitches(piece, rounds) - brim_stitches(piece, rounds - 1)
    due = brim_stitches(piece, rounds) - piece.stitches
    if due < 0.75 * growth and piece.look is not Look.CUPS:
        return 0
    ahead = brim_stitches(piece, min(rounds + 1, total)) - piece.stitches
    wanted = max((due + ahead) / 2, 1.0)
    return easiest(piece.stitches, min(wanted, piece.stitches), growth / 3)
