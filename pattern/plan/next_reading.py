"""The reading that is wanted next, if one is worth asking for."""

from __future__ import annotations

from pattern.plan.asking import LEFT_ALONE, Asking, most_asked
from pattern.plan.asking_worn import by_means
from pattern.plan.part_rules import RULES
from pattern.plan.piece import Piece
from pattern.plan.readings import Want
from pattern.plan.trying_on import Means
from pattern.shape.reading_kinds import Kind


def wanted(piece: Piece, asking: Asking, means: Means | None = None) -> Want | None:
    """The reading to ask for after the last finished round; None when nothing would be gained.

    `means` is what there is to measure with, a tape unless said.
    """
    if piece.in_ring:
        return None
    rules = RULES[piece.stage]
    if asking.unseen and rules.look_worth(piece):
        return Want(Kind.LOOK)
    if asking.left_out and asking.since <= LEFT_ALONE:
        return None
    if asking.in_all >= most_asked(piece, asking):
        return None
    return by_means(piece, asking, rules.wanted(piece, asking), means or Means())
