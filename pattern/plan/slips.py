"""A count that is not what it should be: where the slip most likely lies, and how to mend it."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.plan.counting import slip_allowed
from pattern.shape.rounds import Round


def made_after(round_: Round, sets: int) -> int:
    """Stitches of the round itself that are made after so many of its sets."""
    return round_.worked_after(sets) + (-sets if round_.decreasing else sets)


def stitches_in_set(round_: Round) -> int | None:
    """Stitches made in each set; None where the sets differ, or there are none."""
    sizes = {
        made_after(round_, done) - made_after(round_, done - 1) for done in range(1, round_.sets)
    }
    return sizes.pop() if len(sizes) == 1 else None


@dataclass(frozen=True, slots=True)
class Found:
    """The result of a count within a round."""

    sets: int
    """Sets that were said to be done, or that the count comes nearest to."""
    expected: int
    """Stitches that so many sets have."""
    over: int
    """Stitches found beyond those; below 0 for missing ones."""
    likelier: int | None = None
    """Sets that have just the count, where others were said: these were miscounted, not a stitch.
    """
    check: int | None = None
    """Sets after which to count again, so that half of the places are ruled out."""
    mendable: bool = True
    """Whether an increase more or fewer mends it; otherwise the sets are ripped back."""


def found(round_: Round, count: int, sets: int | None) -> Found:
    """The result of counting stitches in the round, after a number of sets if they were counted."""
    every = [made_after(round_, done) for done in range(round_.sets + 1)]
    if sets is None:
        sets = max((done for done, made in enumerate(every) if made <= count), default=0)
        return Found(sets, every[sets], count - every[sets])
    over = count - every[sets]
    exact = next((done for done, made in enumerate(every) if made == count and done), None)
    return Found(
        sets,
        every[sets],
        over,
        likelier=exact if over and exact != sets else None,
        check=sets // 2 if over and sets >= 4 else None,
        mendable=abs(over) <= min(slip_allowed(round_.after), max(round_.sets - sets, 1)),
    )
