"""How much yarn is left to work, whether what there is will last, and what would make it last."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from pattern import events as e
from pattern.ahead import rounds_ahead
from pattern.brim import brim_total
from pattern.limits import LIMITS
from pattern.offering import offered_after
from pattern.rounds import Stage
from pattern.session import fold
from pattern.state import State
from pattern.unsure import stitches_unsure
from pattern.weighing import stitches_open, use_of
from pattern.yarn import Need, Use

SAFE = 1.3
"""Standard deviations above the mean that are called enough: about nine times in ten."""
_PAST_DEPTH = frozenset({Stage.BRIM, Stage.FINISHING, Stage.DONE})
SHORTEST_DEPTH = 0.85
"""Sides are offered shorter only to this share of the wanted depth; our choice."""


def left(state: State, use: Use | None = None) -> Need:
    """What the rounds not finished yet need; sets worked in the offered one are left out."""
    ahead = rounds_ahead(state)
    stitches = max(sum(round_.after for round_ in ahead) - stitches_open(state), 0)
    return (use or use_of(state)).for_stitches(stitches, stitches_unsure(state.piece, ahead))


def latest_brim(state: State, use: Use, grams: float) -> int | None:
    """The round of the sides after which the brim has to begin, that so many grams last.

    None when they last as planned, or do not even for a brim begun at once, or for no brim.
    """
    ahead = rounds_ahead(state)
    sides = [round_ for round_ in ahead if round_.stage is Stage.SIDES]
    brim = [round_ for round_ in ahead if round_.stage is Stage.BRIM]
    stitches = max(sum(round_.after for round_ in ahead) - stitches_open(state), 0)

    def lasts(unsure: float) -> bool:
        need = use.for_stitches(stitches, unsure).grams
        return need.mean + SAFE * need.sd <= grams

    if lasts(stitches_unsure(state.piece, ahead)) or not brim:
        return None
    unsure = stitches_unsure(state.piece, brim)
    while sides and not lasts(unsure):
        stitches -= sides.pop().after
    begun = sides or state.piece.side_rounds or (state.sets and state.stage is Stage.SIDES)
    if not begun or not lasts(unsure):
        return None
    return sides[-1].number if sides else brim[0].number - 1


class Saving(StrEnum):
    """A change that makes the yarn last."""

    NARROWER_BRIM = "narrower brim"
    SHORTER_SIDES = "shorter sides"
    OTHER_COLOUR_EDGE = "edge of the brim in another colour"
    """A brim as wide as planned, whose last rounds are of other yarn; the setting is the width that
    is of this one."""


@dataclass(frozen=True, slots=True)
class Fit:
    """A saving that is enough: the setting to be changed to, and what is needed of this yarn."""

    saving: Saving
    key: str
    value_mm: float
    need: Need


@dataclass(frozen=True, slots=True)
class Lasting:
    """Whether the yarn lasts, and if not, what would fit, the least change of the hat first."""

    enough: bool
    need: Need
    fits: tuple[Fit, ...] = ()


def enough(state: State, use: Use, grams: float) -> Lasting:
    """Whether so many grams are enough for the rounds left."""
    need = left(state, use)

    def lasts(wanted: Need) -> bool:
        return wanted.grams.mean + SAFE * wanted.grams.sd <= grams

    if lasts(need):
        return Lasting(True, need)
    found: dict[Saving, Fit] = {}
    for saving, key, value in _savings(state):
        if saving not in found and lasts(wanted := left(_changed(state, key, value), use)):
            found[saving] = Fit(saving, key, value, wanted)
    return Lasting(False, need, tuple(found.values()))


def edge_rounds(state: State, fit: Fit) -> int:
    """Rounds of the brim, the last ones, that are of another colour."""
    shrunk = state.washing.height if state.washing else 1.0
    own = round(fit.value_mm / shrunk / state.piece.gauge.height_mm)
    return brim_total(state.piece) - own


def _changed(state: State, key: str, value_mm: float) -> State:
    return fold(state, offered_after(state, (e.QuestionAnswered(key, value_mm),)))


def _savings(state: State) -> Iterator[tuple[Saving, str, float]]:
    """Every change that could still be made, round by round, the smallest first."""
    piece, height = state.piece, state.piece.gauge.height_mm
    shrunk = state.washing.height if state.washing else 1.0
    for rounds in range(brim_total(piece) - 1, max(piece.brim_rounds, 1) - 1, -1):
        yield Saving.NARROWER_BRIM, "brim_mm", rounds * height * shrunk
    least = max(SHORTEST_DEPTH * piece.settings.depth, LIMITS["depth_mm"].least / shrunk)
    if "depth_mm" in piece.settings.shape.asked and state.stage not in _PAST_DEPTH:
        for rounds in range(1, int((piece.settings.depth - least) / height) + 1):
            yield Saving.SHORTER_SIDES, "depth_mm", (
                piece.settings.depth - rounds * height) * shrunk  # fmt: skip
    for rounds in range(brim_total(piece) - 1, piece.brim_rounds - 1, -1):
        yield Saving.OTHER_COLOUR_EDGE, "brim_mm", rounds * height * shrunk
