"""A lost place: which round it must be, from what can be seen of the piece."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from pattern.forecast.rest_of_piece import rounds_ahead
from pattern.session.state import State
from pattern.shape.rounds import Round

AHEAD = 6
"""Rounds that may have been worked without saying so; our choice."""


@dataclass(frozen=True, slots=True)
class Found:
    """Numbers of the rounds that look like what is seen, each the last one on the hook."""

    worked: tuple[int, ...] = ()
    """Rounds that were said to be done, the first one first."""
    ahead: tuple[int, ...] = ()
    """The offered round and those after it, as they are planned."""


def by_count(state: State, count: int) -> Found:
    """Rounds with so many stitches."""
    counted = {made.round.number: made.counted for made in state.rounds_made()}
    return _found(state, lambda round_: count == (counted.get(round_.number) or round_.after))


def by_gap(state: State, plain: int) -> Found:
    """Rounds with so many plain stitches between two increases.

    An even round has one such number; the two of an uneven round only count where no even round
    has it.
    """
    even = _found(state, lambda round_: gaps(round_) == {plain})
    return even if even.worked or even.ahead else _found(state, lambda r: plain in gaps(r))


def gaps(round_: Round) -> frozenset[int]:
    """Plain stitches between neighbouring increases, around the whole round; none without."""
    if not round_.places or round_.decreasing:
        return frozenset()
    around = (*round_.places, round_.places[0] + round_.before)
    return frozenset(there - here - 1 for here, there in pairwise(around))


def _found(state: State, fits: Callable[[Round], bool]) -> Found:
    worked = [made.round for made in state.rounds_made()][::-1]
    ahead = rounds_ahead(state)[:AHEAD]
    return Found(
        tuple(one.number for one in worked if fits(one)),
        tuple(one.number for one in ahead if fits(one)),
    )
