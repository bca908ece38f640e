"""How much is tried: some examples and combinations, or all where RA_THOROUGH=1 asks for it."""

from __future__ import annotations

import os
from collections.abc import Sequence
from itertools import product
from typing import Any, TypeVar

import pytest

Case = TypeVar("Case")

THOROUGH = os.environ.get("RA_THOROUGH") == "1"
SHARE = 1.0 if THOROUGH else 0.25
"""Part of the thorough number that is tried."""
FEWEST = 4
thoroughly = pytest.mark.skipif(not THOROUGH, reason="takes long; RA_THOROUGH=1 tries it")
"""Marks a whole run whose parts other tests try as well."""
alone = pytest.mark.skipif(
    os.environ.get("RA_ALONE") != "1",
    reason="a call in a room that is computed while it sounds takes long: RA_ALONE=1 tries it",
)
"""Marks what is tried after all the others, as `.ci/run` does."""


def examples(thorough: int = 100) -> int:
    """Number of examples now, of a property that is thoroughly tried with so many."""
    return max(min(thorough, FEWEST), round(thorough * SHARE))


def some(cases: Sequence[Case], place: int = 0) -> Sequence[Case]:
    """All of them, or every fourth; those of four places in a row are all of them."""
    return cases if THOROUGH else cases[place % 4 :: 4]


def together(*values: Sequence[Any]) -> list[tuple[Any, ...]]:
    """Combinations of the values of parameters: all, or those that have each value once."""
    if THOROUGH:
        return list(product(*values))
    most = max(map(len, values))
    return [tuple(each[place % len(each)] for each in values) for place in range(most)]
