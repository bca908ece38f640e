"""The reading that is wanted next, if one is worth asking for."""

from __future__ import annotations

from pattern.plan.asking import LEFT_ALONE, Asking, most_asked
from pattern.plan.part_rules import RULES
from pattern.plan.piece import Piece
from pattern.plan.readings import Want
from pattern.shape.reading_kinds import Kind


def wanted(piece: Piece, asking: Asking) -> Want | None:
    """The reading to ask for after the last finished round; None when nothing would be gained."""
    if piece.in_ring:
        return None
    rules = RULES[piece.stage]
    if asking.unseen and rules.look_worth(piece):
        return Want(Kind.LOOK)
    if asking.left_out and asking.since <= LEFT_ALONE:
        return None
    if asking.in_all >= most_asked(piece, asking):
        return None
    return rules.wanted(piece, asking)
