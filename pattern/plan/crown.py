"""A flat crown: how many increases its next round has, and when they stop."""

from __future__ import annotations

import math

from pattern.plan.part_ends import target
from pattern.plan.piece import Piece, fullness, left_in, rounds_by_length
from pattern.shape.reading_kinds import Look
from pattern.shape.rounds import Round

TIGHTEST_FULL, SLACKEST_FULL = 0.85, 1.15
"""Fullness at which a crown is helped: a slight cup begins about 20 % under, crowding 20 % over.
Common practice, one worker's test."""
FLAT_WITHIN = 0.07
"""A mat is helped as soon as it is surely further than this from flat. Common practice, one
worker's test: flat within about 7 %."""
EASIER = 2
"""A crown round that has not to fit may be so many increases off, where they divide it; our choice.
"""
_ENDLESS = 10**6


def crown_target(piece: Piece) -> int:
    """Stitches at which the first part ends: those whose girth is the wanted one."""
    return target(piece, 0)


def by_tape(piece: Piece) -> bool:
    """Whether the disc is all there is, so that its width across decides and not its stitches."""
    return len(piece.stretches) == 1


def crown_over(piece: Piece) -> bool:
    """Whether the disc is as wide as it is wanted."""
    if by_tape(piece):
        return left_in(piece, 0).mean < 0.5
    return piece.stitches >= crown_target(piece)


def crown_left(piece: Piece, part: int, before: int) -> int:
    """Rounds of the crown that are left, one at the least."""
    if by_tape(piece):
        return rounds_by_length(piece, part, before)
    return max(math.ceil((crown_target(piece) - piece.stitches) / piece.settings.increases), 1)


def more_increases(piece: Piece) -> int:
    """Increases of a round that has to catch up: a third more than usual."""
    return piece.settings.increases + max(piece.settings.increases // 3, 1)


def crown_change(piece: Piece) -> int:
    """Increases of the next crown round: the usual ones, none, or some more.

    Before the last round, a few fewer or more where they then divide the round.
    """
    change, usual = _crown_change(piece), piece.settings.increases
    left = _ENDLESS if by_tape(piece) else crown_target(piece) - piece.stitches
    if not 0 < change < left or piece.slip or piece.finished < 4:
        return change
    return change if piece.stitches % change == 0 else _easier(piece.stitches, change, usual, left)


def _easier(stitches: int, change: int, usual: int, left: int) -> int:
    """A change near by that divides the round, best one after which the usual ones do again.

    Where there are to be more than usual, there are.
    """
    least = max(change - EASIER, usual + 1 if change > usual else 1)
    near = range(least, min(change + EASIER + 1, left))
    divides = [some for some in near if stitches % some == 0]
    back = [some for some in divides if (stitches + some) % usual == 0]
    return min(back or divides, key=lambda some: abs(some - change), default=change)


def _crown_change(piece: Piece) -> int:
    left = _ENDLESS if by_tape(piece) else crown_target(piece) - piece.stitches
    usual = max(piece.settings.increases - piece.slip, 0)
    after = piece.finished + 1
    if piece.look is Look.RIPPLES:
        return 0
    more = usual + max(usual // 3, 1)
    if piece.look is Look.CUPS:
        return min(more, left, piece.stitches)
    change = min(usual, left, piece.stitches)
    if piece.finished < 4 or piece.look is Look.FLAT:
        return change
    full = fullness(piece, piece.stitches + change, after)
    tight, slack = (
        (1 - FLAT_WITHIN, 1 + FLAT_WITHIN) if by_tape(piece) else (TIGHTEST_FULL, SLACKEST_FULL)
    )
    if full.mean - full.sd > slack:
        return 0
    if full.mean + full.sd < tight:
        return min(more, left, piece.stitches)
    return change


def cut_to_fit(piece: Piece, offered: Round, sets: int) -> Round:
    """A crown round in work, with only as many more increases as the girth still wants."""
    if offered.decreasing or by_tape(piece):
        return offered
    wanted = crown_target(piece) - offered.before
    return offered.cut_after(max(sets, min(wanted, offered.sets)))
