"""One round: where its increases or decreases go, gathered into repeats that can be said."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import accumulate


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
