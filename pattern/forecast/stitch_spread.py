"""Spread of the number of stitches left, due to the uncertain round height."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby
from statistics import mean

from pattern.plan.crown import by_tape
from pattern.plan.piece import Piece, depth_at
from pattern.shape.part_kinds import shaping
from pattern.shape.rounds import Round


def stitches_unsure(piece: Piece, ahead: Iterable[Round]) -> float:
    """Standard deviation of the number of stitches in the rounds ahead.

    A part that ends at a length has as many rounds more as its rounds are lower; all parts alike. A
    flat crown that others follow ends by its stitches.
    """
    unsure = 0.0
    for part, group in groupby(ahead, key=lambda round_: round_.part):
        rounds = list(group)
        if shaping(rounds[-1].stage).flat and not by_tape(piece):
            continue
        lower = _length_sd_mm(piece, part, rounds) / piece.gauge.height_mm
        unsure += lower * mean(round_.after for round_ in rounds)
    return unsure


def _length_sd_mm(piece: Piece, part: int, rounds: list[Round]) -> float:
    """Spread in mm of the length at which the part ends."""
    to_depth = part < len(piece.stretches) and piece.stretches[part].end_depth_mm is not None
    if part == 0 or to_depth:
        return depth_at(piece, rounds[-1].number).sd
    return piece.gauge.of((0.0, float(piece.rounds_in(part) + len(rounds)), 0.0)).sd
