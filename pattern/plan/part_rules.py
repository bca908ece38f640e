"""How each kind of part is worked, one row each; what it is by itself stands in shape.part_kinds.

A part without a row cannot be worked: looking for it raises KeyError.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from pattern.plan import asking, bounds, crown, sides, sloping
from pattern.plan.asking import Asking
from pattern.plan.brim import brim_change, brim_total
from pattern.plan.effort import ON_BRIM, ON_DISC, ON_SIDES, ON_SLOPE, Effort
from pattern.plan.piece import Piece, rounds_by_length
from pattern.plan.readings import Want
from pattern.shape.reading_kinds import Kind
from pattern.shape.rounds import Round, Stage


@dataclass(frozen=True, slots=True)
class PartRules:
    """How a kind of part is worked; `part` counts the stretches of the piece from 0."""

    change: Callable[[Piece, int], int]
    """Stitches that the next round of the part adds, or takes out where it is below 0."""
    over: Callable[[Piece, int], bool]
    """Whether the part is worked."""
    rounds_left: Callable[[Piece, int, int], int]
    """Rounds of the part that are left, when so many of the piece come before it."""
    most_rounds: Callable[[Piece, int], int]
    """Upper bound of the rounds left in the part."""
    wanted: Callable[[Piece, Asking], Want | None]
    """The reading to ask for in the part, as long as not too many were asked for."""
    sensible: Effort
    """Readings that the part takes, each with its effort."""
    usual: Kind | None
    """The reading that a bare length is; None for one across."""
    look_worth: Callable[[Piece], bool] = lambda _piece: False
    """Whether it is worth asking how the part lies."""
    cut: Callable[[Piece, Round, int], Round] = lambda _piece, offered, _sets: offered
    """A round in work, after so many sets, with only the changes that are still wanted."""
    shifted: bool = False
    """Even changes lie between those of the round before, unless they are to stack."""
    by_stitches: bool = False
    """It ends by its stitches, unless it is all there is: then the tape decides."""


def _brim_left(piece: Piece) -> int:
    return brim_total(piece) - piece.brim_rounds


RULES: dict[Stage, PartRules] = {
    Stage.CROWN: PartRules(
        lambda piece, _part: crown.crown_change(piece),
        lambda piece, _part: crown.crown_over(piece),
        crown.crown_left,
        bounds.of_opening,
        asking.for_crown,
        ON_DISC,
        None,
        look_worth=asking.may_ripple_or_cup,
        cut=crown.cut_to_fit,
        shifted=True,
        by_stitches=True,
    ),
    Stage.DOME: PartRules(
        sloping.dome_change,
        sloping.dome_over,
        rounds_by_length,
        bounds.of_opening,
        asking.for_slope,
        ON_SLOPE,
        Kind.AROUND,
        shifted=True,
    ),
    Stage.SIDES: PartRules(
        sides.sides_change,
        sides.sides_over,
        rounds_by_length,
        bounds.of_sides,
        asking.for_sides,
        ON_SIDES,
        Kind.DEPTH,
    ),
    Stage.TAPER: PartRules(
        sloping.taper_change,
        sloping.taper_over,
        rounds_by_length,
        bounds.of_taper,
        asking.for_slope,
        ON_SLOPE,
        Kind.AROUND,
    ),
    Stage.BRIM: PartRules(
        lambda piece, _part: brim_change(piece),
        lambda piece, _part: _brim_left(piece) <= 0,
        lambda piece, _part, _before: _brim_left(piece),
        bounds.of_brim,
        asking.for_brim,
        ON_BRIM,
        Kind.BRIM,
    ),
    Stage.BALL: PartRules(
        sloping.ball_change,
        sloping.ball_over,
        rounds_by_length,
        bounds.of_ball,
        asking.for_slope,
        ON_SLOPE,
        Kind.AROUND,
        shifted=True,
    ),
}


def ends_by_stitches(piece: Piece, offered: Round) -> bool:
    """Whether the part of the round, which is not the ring, ends by its stitches."""
    return not offered.ring and RULES[offered.stage].by_stitches and not crown.by_tape(piece)
