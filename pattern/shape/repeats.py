"""Gathers a round into repeats that can be said."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from pattern.shape.rounds import Round


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
