"""Yarn needed for the rest, whether the stash will last, and savings that make it last."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from pattern.forecast.rest_of_piece import rounds_ahead
from pattern.forecast.stitch_spread import stitches_unsure
from pattern.forecast.yarn_savings import Changes, Saving, savings
from pattern.gauge.estimate import Estimate
from pattern.gauge.yarn_use import Need, Use
from pattern.plan.brim import brim_total
from pattern.session import events as e
from pattern.session.decide_yarn import stitches_done, stitches_open, use_of
from pattern.session.folding import unfolding
from pattern.session.next_offer import offered_after
from pattern.session.state import State
from pattern.shape.part_kinds import shaping
from pattern.shape.rounds import Round

SAFE = 1.3
"""Standard deviations above the mean that count as enough: about nine times in ten."""


def at_most(need: Estimate) -> float:
    """The most that is likely to be needed, and what one had better have."""
    return need.mean + SAFE * need.sd


def left(state: State, use: Use | None = None) -> Need:
    """Yarn for the unfinished rounds, without the repeats already worked in the offered round."""
    return _need(state, use or use_of(state), rounds_ahead(state))


def so_far(state: State) -> Need:
    """Yarn in what is worked, with the repeats of the offered round."""
    return use_of(state).for_stitches(stitches_done(state))


def _need(state: State, use: Use, ahead: Sequence[Round]) -> Need:
    stitches = max(sum(round_.after for round_ in ahead) - stitches_open(state), 0)
    return use.for_stitches(stitches, stitches_unsure(state.piece, ahead))


def latest_brim(state: State, use: Use, grams: float) -> int | None:
    """Last round of the sides after which the brim must begin for the yarn to last.

    None if the yarn lasts as planned, if it would not last even for a brim begun now, or if there
    is no brim.
    """
    if not state.piece.stretches[-1].shaping.flared:
        return None
    ahead = rounds_ahead(state)
    sides = [round_ for round_ in ahead if shaping(round_.stage).straight]
    brim = [round_ for round_ in ahead if shaping(round_.stage).flared]
    stitches = max(sum(round_.after for round_ in ahead) - stitches_open(state), 0)

    def lasts(unsure: float) -> bool:
        need = use.for_stitches(stitches, unsure).grams
        return at_most(need) <= grams

    if lasts(stitches_unsure(state.piece, ahead)) or not brim:
        return None
    unsure = stitches_unsure(state.piece, brim)
    while sides and not lasts(unsure):
        stitches -= sides.pop().after
    offered = state.offered
    within = state.sets and offered is not None and shaping(offered.stage).straight
    begun = sides or state.piece.side_rounds or within
    if not begun or not lasts(unsure):
        return None
    return sides[-1].number if sides else brim[0].number - 1


@dataclass(frozen=True, slots=True)
class Fit:
    """A saving that is enough, with the new setting and the yarn that it needs."""

    saving: Saving
    key: str
    value_mm: float
    need: Need


@dataclass(frozen=True, slots=True)
class Lasting:
    """Whether the yarn lasts, and the savings that would make it last, smallest change first."""

    enough: bool = field(kw_only=True)
    need: Need
    fits: tuple[Fit, ...] = ()


def enough(state: State, use: Use, grams: float) -> Lasting:
    """Whether this many grams are enough for the rounds left."""
    ahead = rounds_ahead(state)
    need = _need(state, use, ahead)
    if _lasts(need, grams):
        return Lasting(need, enough=True)
    found = (
        _fit(state, use, grams, saving, ahead) for saving in savings(state) if saving.values_mm
    )
    return Lasting(need, tuple(fit for fit in found if fit is not None), enough=False)


def _fit(
    state: State, use: Use, grams: float, saving: Changes, ahead: tuple[Round, ...]
) -> Fit | None:
    """The smallest change of a saving that is enough; None if none is."""

    def fit(at: int) -> Fit:
        key, value_mm = saving.key, saving.values_mm[at]
        return Fit(saving.saving, key, value_mm, left(_changed(state, key, value_mm), use))

    guess = _guessed(state, use, grams, [one for one in ahead if saving.of(one)], ahead)
    at = _least(len(saving.values_mm), lambda at: _lasts(fit(at).need, grams), guess)
    return fit(at) if at < len(saving.values_mm) else None


def _lasts(need: Need, grams: float) -> bool:
    return at_most(need.grams) <= grams


def _guessed(
    state: State, use: Use, grams: float, of: list[Round], ahead: tuple[Round, ...]
) -> int:
    """Guess at the index of the smallest saving that is enough, from the rounds planned now."""

    def lasts_without(rounds: int) -> bool:
        gone = {round_.number for round_ in of[len(of) - rounds :]}
        kept = [round_ for round_ in ahead if round_.number not in gone]
        return _lasts(_need(state, use, kept), grams)

    return bisect_left(range(1, len(of) + 1), x=True, key=lasts_without)


def _least(count: int, lasts: Callable[[int], bool], guess: int) -> int:
    """Index of the smallest of `count` changes that is enough; `count` if none is.

    All larger changes must be enough too. Each look plans the rest of the piece, and from a good
    guess two looks suffice.
    """
    low, high = 0, count
    near = iter((guess, guess - 1, guess + 1))
    while low < high:
        at = min(max(next(near, (low + high) // 2), low), high - 1)
        if lasts(at):
            high = at
        else:
            low = at + 1
    return low


def edge_rounds(state: State, fit: Fit) -> int:
    """Number of last rounds of the brim worked in another colour."""
    shrunk = state.washing.height if state.washing else 1.0
    own = round(fit.value_mm / shrunk / state.piece.gauge.height_mm)
    return brim_total(state.piece) - own


def _changed(state: State, key: str, value_mm: float) -> State:
    return offered_after(unfolding(state, e.QuestionAnswered(key, value_mm))).after
