"""The rounds that are left, from the settings, the gauge as it is known, and what is worked."""

from __future__ import annotations

from pattern.plan.part_rules import RULES
from pattern.plan.piece import Piece
from pattern.shape.part_kinds import shaping
from pattern.shape.rounds import Round, Stage, spaced_round

_SHIFT_STEP, _SHIFTS = 2, 7
"""Share of the plain stitches of a repeat that comes before its increase: it grows by two sevenths
from round to round, so that no two of seven rounds on end begin alike, also with plain ones among
them."""


def next_round(piece: Piece) -> Round | None:
    """The round to be worked next; None when the piece is whole."""
    if piece.finished == 0:
        return Round(1, Stage.RING, 0, piece.settings.increases)
    part = next_part(piece)
    if part is None:
        return None
    stage, number = piece.stretches[part].stage, piece.finished + 1
    rules = RULES[stage]
    change = rules.change(piece, part)
    return spaced_round(
        number, stage, piece.stitches, change, _shift(piece, stage, part), part=part
    )


def _shift(piece: Piece, stage: Stage, part: int) -> float:
    """Share of the plain stitches that each repeat of the round begins with."""
    alone = shaping(stage).straight and len(set(piece.band[-2:])) < 2
    if piece.settings.stacked or alone:
        return 0.0
    done = piece.rounds_in(part)
    if RULES[stage].shifted:
        return 0.5 if done % 2 else 0.0
    return done * _SHIFT_STEP % _SHIFTS / _SHIFTS


def next_part(piece: Piece) -> int | None:
    """The part of the round to be worked next; None when the piece is whole."""
    parts = range(piece.index, len(piece.stretches))
    return next((part for part in parts if part >= piece.closed and not _over(piece, part)), None)


def _over(piece: Piece, part: int) -> bool:
    return RULES[piece.stretches[part].stage].over(piece, part)


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
    return RULES[piece.stretches[part].stage].rounds_left(piece, part, before)


def most_rounds(piece: Piece) -> int:
    """Upper bound of the rounds left when they are worked as called and nothing is measured.

    Each part takes the rounds of its length, one more, and those that change its stitches.
    """
    parts = list(enumerate(piece.stretches))[piece.index :]
    return 1 + sum(RULES[stretch.stage].most_rounds(piece, part) for part, stretch in parts)
