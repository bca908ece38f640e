"""Spoken amounts and their conversion: lengths, weights and ball lengths."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pint import UnitRegistry


class Unit(StrEnum):
    """Units that a maker says; the value is pint's name for the unit."""

    INCH = "inch"
    CM = "centimeter"
    MM = "millimeter"
    METRE = "meter"
    YARD = "yard"
    GRAM = "gram"
    OUNCE = "ounce"
    POUND = "pound"


TAPE_UNITS = frozenset({Unit.INCH, Unit.CM, Unit.MM})
"""Units of a tape measure."""
BALL_UNITS = frozenset({Unit.METRE, Unit.YARD})
WEIGHT_UNITS = frozenset({Unit.GRAM, Unit.OUNCE, Unit.POUND})


_DEFINED = (
    *("kilo- = 1e3 = k-", "deci- = 1e-1 = d-", "centi- = 1e-2 = c-", "milli- = 1e-3 = m-"),
    *("meter = [length] = m = metre", "yard = 0.9144 * meter = yd"),
    *("foot = yard / 3 = ft = feet", "inch = yard / 36 = in = inches"),
    *("gram = [mass] = g", "pound = 453.59237 * gram = lb", "ounce = pound / 16 = oz"),
)
"""Units as pint reads them; its own list has a thousand more, and takes a fifth of a second.
Source: the international yard and pound agreement, 1959; prefixes from the SI."""


@cache
def _units() -> UnitRegistry[float]:
    from pint import UnitRegistry

    return UnitRegistry(_DEFINED)


@cache
def factor(unit: Unit, base: Unit) -> float:
    """Number of `base` units in one `unit`, from pint.

    Raises: pint.DimensionalityError when the two units measure different quantities.
    """
    return float(_units().Quantity(1, unit.value).to(base.value).magnitude)


_WRITTEN = re.compile(
    r"\s*([+-]?(?:[0-9]{1,9}(?:\.[0-9]{0,20})?|\.[0-9]{1,20})(?:e[+-]?[0-9]{1,3})?)"
    r"\s*([a-z]{1,20})\s*"
)


@dataclass(frozen=True, slots=True)
class Amount:
    """A number as it was said, with its precision and its unit, if one was said."""

    value: float
    step: float = 1.0
    """Precision: 0.5 for "six and a half", 0.125 for "six and three eighths", 0.1 for "six point
    two"."""
    unit: Unit | None = None

    def mm(self, default: Unit) -> float:
        """The length in mm; `default` is the unit when none was said."""
        return self.value * factor(self.unit or default, Unit.MM)

    def step_mm(self, default: Unit) -> float:
        """The precision in mm; `default` is the unit when none was said."""
        return self.step * factor(self.unit or default, Unit.MM)

    def whole(self) -> int | None:
        """The amount as a plain count; None when it has a unit or a fraction."""
        if self.unit is not None or not float(self.value).is_integer():
            return None
        return int(self.value)


def written_mm(text: str) -> float:
    """A written length with its unit, such as "4 cm" or "1.5 in", in mm, by pint.

    Raises: ValueError when the text is not a length, or not finite.
    """
    from pint import PintError

    # Only one number and one word: pint would evaluate whole expressions of any size.
    if (written := _WRITTEN.fullmatch(text)) is None:
        raise ValueError("that is no length")
    try:
        quantity = _units().Quantity(float(written[1]), written[2])
        found = float(quantity.to("mm").magnitude)
    except (PintError, ValueError, TypeError, AssertionError, ArithmeticError) as refusal:
        raise ValueError("that is no length") from refusal
    if not math.isfinite(found):
        raise ValueError("that is no length")
    return found


def from_mm(length_mm: float, unit: Unit) -> float:
    """A length in `unit`."""
    return length_mm / factor(unit, Unit.MM)


def grams(amount: Amount) -> float:
    """A weight in grams; an amount without a unit is taken as grams."""
    return amount.value * factor(amount.unit or Unit.GRAM, Unit.GRAM)


def metres(amount: Amount) -> float:
    """A ball length in metres; an amount without a unit is taken as metres."""
    return amount.value * factor(amount.unit or Unit.METRE, Unit.METRE)


SAID_EXACTLY = 1e-6
"""A length so near to quarters was said in them; our choice."""


def tape_value(
    length_mm: float, unit: Unit, denominator: int = 8, *, said: bool = False
) -> Fraction:
    """The length to the nearest mark of a tape: 1/`denominator` inch, or a millimetre.

    Quarters of a centimetre that were `said` stay quarters.
    """
    value = from_mm(length_mm, unit)
    if said and unit is Unit.CM and abs(value * 4 - round(value * 4)) < SAID_EXACTLY:
        return Fraction(round(value * 4), 4)
    if unit is Unit.MM:
        return Fraction(round(value))
    if unit is Unit.CM:
        return Fraction(round(value * 10), 10)
    return Fraction(math.floor(value * denominator + 0.5), denominator)
