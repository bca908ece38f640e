"""The change of a round that is easiest to say among those that do as well."""

from __future__ import annotations

import math

FEW = 3
"""Stitches left at the end that make no difference to the ear; our choice."""


def easiest(stitches: int, wanted: float, slack: float) -> int:
    """The change near `wanted`, up to `slack` off, that is shortest to say; the nearest of equals.

    Increases where `wanted` is above 0, else decreases; at least one, and no more than fit.
    """
    sign, size = (1, wanted) if wanted > 0 else (-1, -wanted)
    most = stitches if sign > 0 else stitches // 2
    near = range(max(math.ceil(size - slack), 1), math.floor(size + slack) + 1)
    choices = [c for c in near if c <= most] or [min(max(round(size), 1), most)]

    return sign * min(choices, key=lambda change: (_parts(stitches, change), abs(change - size)))


def _parts(stitches: int, changes: int) -> tuple[int, int]:
    """How so many changes are said: with one repeat, with stitches left at the end, or with two
    repeats that differ; and, to the nearest few, how many are left.
    """
    gap, over = divmod(stitches, changes)
    return (0, 0) if not over else (1, over // FEW) if over <= gap else (2, 0)
