"""The rounds of a crown as stitches in order, and the parts into which they are equal."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum, auto

from pattern.shape.rounds import Round

MOST_ROUNDS = 36
"""Rounds that a chart shows at the most: with more, symbols are too small to read; our choice."""
MOST_STITCHES = 1500
"""Most stitches that are drawn of whole rounds; more would run together."""
_FEWEST_PARTS = 3
"""Fewest equal parts of which one is drawn by itself."""


class Placed(Enum):
    """A step in a round."""

    PLAIN = auto()
    INCREASE = auto()
    DECREASE = auto()

    @property
    def made(self) -> int:
        """Stitches that it makes."""
        return 2 if self is Placed.INCREASE else 1


def steps(round_: Round) -> list[Placed]:
    """The steps of a round, in order."""
    if round_.ring or not round_.places:
        return [Placed.PLAIN] * round_.after
    change = Placed.DECREASE if round_.decreasing else Placed.INCREASE
    used, places, found, at = 2 if round_.decreasing else 1, set(round_.places), [], 0
    while at < round_.before:
        found.append(change if at in places else Placed.PLAIN)
        at += used if at in places else 1
    return found


@dataclass(frozen=True, slots=True)
class Repeats:
    """The rounds that a chart shows, or one of the equal parts of each."""

    rounds: tuple[tuple[Placed, ...], ...]
    parts: int
    """How many times each is worked around: 1 for whole rounds."""
    plain_shown: bool = True
    """Whether plain stitches are drawn, and not increases and decreases alone."""


def repeats(rounds: Sequence[Round]) -> Repeats:
    """The first rounds that are equal parts over and over; whole rounds if those are too few."""
    shown = rounds[:MOST_ROUNDS]
    worked = [steps(one) for one in shown]
    best = Repeats((), 1)
    for count in range(1, len(shown) + 1):
        parts = math.gcd(*(len(one) for one in worked[:count]))
        equal = max(
            (n for n in range(1, parts + 1) if parts % n == 0 and _equal(worked[:count], n)),
        )
        if equal < _FEWEST_PARTS:
            break
        best = Repeats(tuple(tuple(one[: len(one) // equal]) for one in worked[:count]), equal)
    if 2 * len(best.rounds) > len(shown):
        return best
    few = sum(one.after for one in shown) <= MOST_STITCHES
    return Repeats(tuple(map(tuple, worked)), 1, few)


def _equal(worked: Sequence[list[Placed]], parts: int) -> bool:
    return all(one == one[: len(one) // parts] * parts for one in worked)
