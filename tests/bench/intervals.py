"""How sure a share is that was counted."""

from __future__ import annotations

from scipy.stats import binomtest  # type: ignore[import-untyped]


def interval(count: int, total: int) -> str:
    """The 95 % interval of a share of independent trials, in percent.

    Source: Wilson 1927, as SciPy has it.

    >>> interval(50, 100), interval(0, 48), interval(0, 0)
    ('40.4 to 59.6', '0.0 to 7.4', '0.0 to 100.0')
    """
    if not total:
        return "0.0 to 100.0"
    found = binomtest(count, total).proportion_ci(0.95, method="wilson")
    return f"{100 * found.low:.1f} to {100 * found.high:.1f}"
