"""The rounds that are left, from the settings, the gauge as it is known, and what is worked."""

from __future__ import annotations

import math

from pattern.plan.brim import brim_change, brim_total
from pattern.plan.crown import by_tape, crown_change, crown_over, crown_target
from pattern.plan.piece import Piece, left_in
from pattern.plan.sides import sides_change, sides_over
from pattern.plan.sloping import sloping_change, sloping_over
from pattern.shape.rounds import Round, Stage, spaced_round

_FROM_CENTRE = frozenset({Stage.CROWN, Stage.DOME, Stage.BALL})
_SHIFT_STEP, _SHIFTS = 2, 7
"""Of the plain stitches of a repeat a share comes before its increase, which grows by two sevenths
from round to round: no two of seven rounds on end begin alike, also with plain ones between."""


def next_round(piece: Piece) -> Round | None:
    """The round to be worked next; None when the piece is whole."""
    if piece.finished == 0:
        return Round(1, Stage.RING, 0, piece.settings.increases)
    part = next_part(piece)
    if part is None:
        return None
    stage, number = piece.stretches[part].stage, piece.finished + 1
    change = _change(piece, part, stage)
    return spaced_round(
        number, stage, piece.stitches, change, _shift(piece, stage, part), part=part
    )


def _shift(piece: Piece, stage: Stage, part: int) -> float:
    """Share of the plain stitches that each repeat of the round begins with."""
    alone = stage is Stage.SIDES and len(set(piece.band[-2:])) < 2
    if piece.settings.stacked or alone:
        return 0.0
    done = piece.rounds_in(part)
    if stage in _FROM_CENTRE:
        return 0.5 if done % 2 else 0.0
    return done * _SHIFT_STEP % _SHIFTS / _SHIFTS


def _change(piece: Piece, part: int, stage: Stage) -> int:
    """Stitches that the next round adds, or takes out where it is below 0."""
    match stage:
        case Stage.CROWN:
            return crown_change(piece)
        case Stage.SIDES:
            return sides_change(piece, part)
        case Stage.BRIM:
            return brim_change(piece)
    return sloping_change(piece, part)


def next_part(piece: Piece) -> int | None:
    """The part of the round to be worked next; None when the piece is whole."""
    parts = range(piece.index, len(piece.stretches))
    return next((part for part in parts if part >= piece.closed and not _over(piece, part)), None)


def _over(piece: Piece, part: int) -> bool:
    match piece.stretches[part].stage:
        case Stage.CROWN:
            return crown_over(piece)
        case Stage.SIDES:
            return sides_over(piece, part)
        case Stage.BRIM:
            return piece.brim_rounds >= brim_total(piece)
    return sloping_over(piece, part)


def recounted(piece: Piece, offered: Round) -> Round:
    """A round in work, spread again over the stitches found in the round before it."""
    if offered.before == piece.stitches:
        return offered
    room = piece.stitches // 2 if offered.decreasing else piece.stitches
    sets = min(offered.sets, room)
    change = -sets if offered.decreasing else sets
    shift = _shift(piece, offered.stage, offered.part)
    return spaced_round(
        offered.number, offered.stage, piece.stitches, change, shift, part=offered.part
    )


def rounds_left(piece: Piece, offered: Round | None) -> int:
    """Rounds from the offered one to the last, as planned now."""
    if offered is None:
        return 0
    left = 0
    for part in range(offered.part, len(piece.stretches)):
        left += rounds_of(piece, part, piece.finished + left)
    return left


def rounds_of(piece: Piece, part: int, before: int) -> int:
    """Rounds of a part that are left when so many rounds of the piece are finished before it."""
    stage = piece.stretches[part].stage
    if stage is Stage.CROWN and not by_tape(piece):
        return max(math.ceil((crown_target(piece) - piece.stitches) / piece.settings.increases), 1)
    if stage is Stage.BRIM:
        return brim_total(piece) - piece.brim_rounds
    return max(round(left_in(piece, part, before).mean), 1)
