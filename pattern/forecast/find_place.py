"""Finds the round that the maker is in, from what they can see of the piece."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from pattern.forecast.rest_of_piece import rounds_ahead
from pattern.session.state import State
from pattern.shape.rounds import Round

AHEAD = 6
"""Most rounds that the maker may have worked without telling; our choice."""


@dataclass(frozen=True, slots=True)
class Found:
    """Numbers of the rounds that match, each as the last round on the hook."""

    worked: tuple[int, ...] = ()
    """Matching rounds that the maker reported as done, in order."""
    ahead: tuple[int, ...] = ()
    """Matching rounds among the offered one and those planned after it."""


def by_count(state: State, count: int) -> Found:
    """The rounds with this number of stitches."""
    counted = {made.round.number: made.counted for made in state.rounds_made()}
    return _found(state, lambda round_: count == (counted.get(round_.number) or round_.after))


def by_gap(state: State, plain: int) -> Found:
    """The rounds with this number of plain stitches between two increases.

    An even round has one such number. The two numbers of an uneven round only count if no even
    round matches.
    """
    even = _found(state, lambda round_: gaps(round_) == {plain})
    return even if even.worked or even.ahead else _found(state, lambda r: plain in gaps(r))


def gaps(round_: Round) -> frozenset[int]:
    """Numbers of plain stitches between neighbouring increases; empty without increases."""
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
