"""The change of a round that is easiest to say among those that do as well."""

from __future__ import annotations

import math
from functools import lru_cache

from pattern.shape.rounds import Stage, recipe, spaced_round


def easiest(stitches: int, wanted: float, slack: float) -> int:
    """The change near `wanted`, up to `slack` off, that is shortest to say; the nearest of equals.

    Increases where `wanted` is above 0, else decreases; at least one, and no more than fit.
    """
    sign, size = (1, wanted) if wanted > 0 else (-1, -wanted)
    most = stitches if sign > 0 else stitches // 2
    near = range(max(math.ceil(size - slack), 1), math.floor(size + slack) + 1)
    choices = [c for c in near if c <= most] or [min(max(round(size), 1), most)]

    return sign * min(
        choices, key=lambda change: (_repeats(stitches % change, change), abs(change - size))
    )


@lru_cache(maxsize=4096)
def _repeats(over: int, changes: int) -> int:
    """Repeats in which so many changes are said, where their repeats share out so many stitches
    more than the shortest have: how long these are does not count.
    """
    said = recipe(spaced_round(1, Stage.BRIM, over + 2 * changes, changes))
    return sum(len(group.repeats) for group in said.groups)
