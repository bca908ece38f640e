"""Savings of yarn that are still possible, one round apart."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from pattern.plan.brim import brim_total
from pattern.session.state import State
from pattern.shape.limits import LIMITS
from pattern.shape.part_kinds import shaping
from pattern.shape.rounds import Round, Stage

SHORTEST_DEPTH = 0.85
"""Smallest share of the wanted depth to which the sides are shortened; our choice."""


class Saving(StrEnum):
    """A change that makes the yarn last."""

    NARROWER_BRIM = "narrower brim"
    SHORTER_SIDES = "shorter sides"
    OTHER_COLOUR_EDGE = "edge of the brim in another colour"
    """A brim of the planned width whose last rounds are worked in other yarn. The setting is the
    width worked in this yarn."""


@dataclass(frozen=True, slots=True)
class Changes:
    """A saving with all changes that are still possible, one round apart, smallest first."""

    saving: Saving
    of: Callable[[Round], bool]
    """Whether the round is of the part that gets fewer."""
    key: str
    values_mm: tuple[float, ...]


def savings(state: State) -> Iterator[Changes]:
    """The possible savings, those tried first at the front."""
    piece, height = state.piece, state.piece.gauge.height_mm
    shrunk = state.washing.height if state.washing else 1.0
    brims = "brim_mm" in piece.settings.shape.asked  # other shapes fix their brim's width
    widths = tuple(
        rounds * height * shrunk
        for rounds in range(brim_total(piece) - 1, piece.brim_rounds - 1, -1)
        if brims
    )
    narrower = widths if piece.brim_rounds else widths[:-1]
    yield Changes(Saving.NARROWER_BRIM, _of_brim, "brim_mm", narrower)
    if "depth_mm" in piece.settings.shape.asked and not _past_depth(state):
        least = max(SHORTEST_DEPTH * piece.settings.depth, LIMITS["depth_mm"].least / shrunk)
        rounds_less = range(1, int((piece.settings.depth - least) / height) + 1)
        deep = [part.stage for part in piece.stretches if part.end_depth_mm is not None]
        yield Changes(
            Saving.SHORTER_SIDES,
            lambda one: one.stage is deep[-1],
            "depth_mm",
            tuple((piece.settings.depth - rounds * height) * shrunk for rounds in rounds_less),
        )
    yield Changes(Saving.OTHER_COLOUR_EDGE, _of_brim, "brim_mm", widths)


def _of_brim(one: Round) -> bool:
    return shaping(one.stage).flared


def _past_depth(state: State) -> bool:
    """Whether what is measured from the centre is over: the brim is in work, or the finishing."""
    return state.stage in {Stage.FINISHING, Stage.DONE} or (
        state.offered is not None and shaping(state.offered.stage).flared
    )
