"""One round: where its increases or decreases go, gathered into repeats that can be said."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import accumulate, groupby


class Stage(StrEnum):
    """Where the piece is."""

    SETUP = "setup"
    RING = "ring"
    CROWN = "crown"
    DOME = "dome"
    SIDES = "sides"
    TAPER = "taper"
    BRIM = "brim"
    BALL = "ball"
    FINISHING = "finishing"
    DONE = "done"


@dataclass(frozen=True, slots=True)
class Round:
    """A round as called: `places` are 0-based stitches of the round before.

    Each place receives two stitches, or, where `after` is less than `before`, is the first of two
    worked together.
    """

    number: int
    stage: Stage
    before: int
    after: int
    places: tuple[int, ...] = ()
    part: int = 0
    """The part of the shape that it belongs to, counted from 0."""

    @property
    def ring(self) -> bool:
        """Whether it is the first round, into the ring."""
        return self.stage is Stage.RING

    @property
    def decreasing(self) -> bool:
        """Whether the places are decreases."""
        return self.after < self.before

    @property
    def sets(self) -> int:
        """Repeats in the round: one for each place."""
        return len(self.places)

    def cut_after(self, sets: int) -> Round:
        """The round with only its first `sets` places, the rest worked plainly."""
        change = -sets if self.decreasing else sets
        return replace(self, after=self.before + change, places=self.places[:sets])

    def worked_after(self, sets: int) -> int:
        """Stitches of the round before that are used up after so many sets."""
        if sets <= 0:
            return 0
        if sets >= self.sets:
            return self.before
        return self.places[sets] - self.places[0]


def easy_gaps(total: int, count: int) -> list[int]:
    """Lengths of `count` repeats of `total` stitches, to be held in the ear first and even second.

    All are alike, and what does not divide is left for the end of the round; where that would be
    longer than a repeat, the first ones are a stitch longer instead.

    Raises: ValueError when there are more repeats than stitches, or none.
    """
    if not 0 < count <= total:
        raise ValueError(f"{count} repeats in {total} stitches")
    gap, over = divmod(total, count)
    return [gap] * count if over <= gap else [gap + 1] * over + [gap] * (count - over)


def spaced_round(
    number: int, stage: Stage, before: int, change: int, shift: float = 0.0, *, part: int = 0
) -> Round:
    """A round of `before` stitches with `change` increases (or, below 0, decreases).

    Each repeat begins with a share `shift` (0 to 1) of its plain stitches, so that increases of
    successive rounds do not stack; a round of two kinds of repeat is long enough to say without.

    Raises: ValueError for more increases than stitches, or decreases than pairs.
    """
    if change == 0:
        return Round(number, stage, before, before, part=part)
    used = 2 if change < 0 else 1
    gaps = easy_gaps(before, abs(change))
    if min(gaps) < used:
        raise ValueError(f"{-change} decreases among {before} stitches")
    lead = math.ceil(shift * min(gaps[0] - used, LONGEST_LEAD)) if len(set(gaps)) == 1 else 0
    places = tuple(lead + at for at in accumulate(gaps[:-1], initial=0))
    return Round(number, stage, before, before + change, places, part)


LONGEST_LEAD = 12
"""Plain stitches that a shift takes a share of at the most: they are few to count, and enough to
keep increases apart; our choice."""


@dataclass(frozen=True, slots=True)
class Repeat:
    """Stitches of one repeat besides its increase or decrease, and how often it is worked."""

    plain: int
    times: int


@dataclass(frozen=True, slots=True)
class Group:
    """Repeats worked in order, `times` times over."""

    repeats: tuple[Repeat, ...]
    times: int


@dataclass(frozen=True, slots=True)
class Recipe:
    """A round to be said: groups of repeats, and plain stitches at the end.

    Each repeat begins with `lead` of its plain stitches.
    """

    lead: int
    groups: tuple[Group, ...]
    tail: int


def recipe(round_: Round) -> Recipe:
    """The round gathered into repeats."""
    if not round_.places:
        return Recipe(0, (), round_.before)
    used = 2 if round_.decreasing else 1
    lead = round_.places[0]
    ends = (*round_.places[1:], round_.before + lead)
    gaps = [end - place - used for place, end in zip(round_.places, ends, strict=True)]
    tails = {0, max(gaps[-1] - gaps[-2], 0)} if len(gaps) > 1 else {0}
    ways = ((tail, _gathered([*gaps[:-1], gaps[-1] - tail])) for tail in sorted(tails))
    tail, groups = min(ways, key=lambda way: _length(way[1]))
    return Recipe(lead, groups, tail)


_SHORTEST_BLOCK = 3
"""Length to say of the shortest block of different repeats that is gone over again."""


def _gathered(gaps: list[int]) -> tuple[Group, ...]:
    """The shortest saying: some block, repeated, and then the rest.

    Only rounds of older journals, which were spread as evenly as can be, have blocks.
    """
    best = tuple(Group((run,), 1) for run in _runs(gaps))
    if len(best) <= _SHORTEST_BLOCK:
        return best
    again = _again(gaps)
    for size in range(2, len(gaps) // 2 + 1):
        times = 1 + again[size] // size
        if times > 1:
            rest = (Group((run,), 1) for run in _runs(gaps[times * size :]))
            block = (Group(_runs(gaps[:size]), times), *rest)
            best = min(best, block, key=_length)
    return best


def _again(gaps: list[int]) -> list[int]:
    """For each place, how many gaps from there on are those from the beginning on.

    The Z-function, which looks at each gap only so often. Source: D. Gusfield, "Algorithms on
    Strings, Trees and Sequences", 1997 (citation from memory).
    """
    same = [0] * len(gaps)
    left = right = 0
    for at in range(1, len(gaps)):
        length = min(right - at, same[at - left]) if at < right else 0
        while at + length < len(gaps) and gaps[length] == gaps[at + length]:
            length += 1
        same[at] = length
        if at + length > right:
            left, right = at, at + length
    return same


def _runs(gaps: list[int]) -> tuple[Repeat, ...]:
    return tuple(Repeat(plain, len(list(same))) for plain, same in groupby(gaps))


def _length(groups: tuple[Group, ...]) -> int:
    """How long the groups are to say: a repeat counts one, going over a block again one more."""
    return sum(
        len(group.repeats) + (group.times > 1 and len(group.repeats) > 1) for group in groups
    )
