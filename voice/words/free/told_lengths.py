"""Lengths that are known in millimetres, as the maker would have told them."""

from __future__ import annotations

from pattern.trade.lengths import Amount, Unit


def rounded(mm: float, step_mm: float, unit: Unit) -> Amount:
    """A length in the maker's own unit, which stays, rounded to a step as it was told."""
    one_mm = Amount(1.0, unit=unit).mm(unit)
    return Amount(mm / one_mm, step_mm / one_mm, unit)
