"""Learns from how the fabric lies."""

from __future__ import annotations

from dataclasses import replace

from pattern.gauge.estimate import Gauge, Row, gradient
from pattern.gauge.miscount import along
from pattern.plan.piece import Piece, fullness
from pattern.shape.reading_kinds import Look

LOOKS = {Look.FLAT: (1.0, 0.07), Look.RIPPLES: (1.22, 0.10), Look.CUPS: (0.80, 0.10)}
"""Fullness that each look means and its spread. Common practice, one worker's test: flat within
about 7 %, a slight cup 20 % under, crowded 20 % over."""


def learn_look(piece: Piece, look: Look) -> Piece:
    """The piece after the maker said how the edge lies: a reading of its fullness, linearised.

    A ripple (or a cup) that was expected to be stronger still says nothing new.
    """
    rounds = piece.brim_rounds if piece.shaping.flared else piece.finished
    if rounds == 0 or not piece.shaping.by_look:
        return piece

    def full_at(x: Row) -> float:
        return fullness(_with_mean(piece, x), piece.stitches, rounds).mean

    value, spread = LOOKS[look]
    now = full_at(piece.gauge.mean)
    if (look is Look.RIPPLES and now > value) or (look is Look.CUPS and now < value):
        return piece
    row = gradient(full_at, piece.gauge.mean)
    level = sum(r * m for r, m in zip(row, piece.gauge.mean, strict=True)) + value - now
    gauge, miscount = along(piece.gauge, piece.miscount, row, level, spread)
    return replace(piece, gauge=gauge, miscount=miscount)


def _with_mean(piece: Piece, mean: Row) -> Piece:
    return replace(piece, gauge=Gauge(mean, piece.gauge.covariance))
