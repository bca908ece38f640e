"""Measures and their spreads as text."""

from __future__ import annotations

from fractions import Fraction

from pattern.gauge.estimate import Estimate
from pattern.trade.lengths import Unit, from_mm, tape_value

_SHORT = {Unit.INCH: "in", Unit.CM: "cm", Unit.MM: "mm"}
_OTHER = {Unit.INCH: Unit.CM, Unit.CM: Unit.INCH, Unit.MM: Unit.INCH}
GIVE_OR_TAKE = (
    "Give or take is one standard deviation: about two times in three the true value lies "
    "within it."
)
"""For a normal distribution, 68 % lies within one standard deviation."""


def plain_length(length_mm: float, unit: Unit) -> str:
    """The length as a tape shows it, such as "22 3/8 in", "56.8 cm" or "56 cm"."""
    value = tape_value(length_mm, unit)
    number = mixed(value) if unit is Unit.INCH else f"{float(value):g}"
    return f"{number} {_SHORT[unit]}"


def trade_length(length_mm: float, unit: Unit) -> str:
    """A measure of the piece as patterns give it: to half a centimetre, or a quarter of an inch.

    One below 10 cm is to an eighth of an inch.
    """
    parts = 4 if length_mm >= 100 else 8
    step_mm = {Unit.INCH: 25.4 / parts, Unit.CM: 5.0, Unit.MM: 5.0}[unit]
    return plain_length(max(round(length_mm / step_mm), 1) * step_mm, unit)


def both_lengths(length_mm: float, unit: Unit) -> str:
    """The same, followed by the other unit in brackets."""
    return f"{trade_length(length_mm, unit)} ({trade_length(length_mm, _OTHER[unit])})"


def length(length_mm: float, unit: Unit) -> str:
    """The length in the maker's unit, followed by the other unit in brackets."""
    return f"{plain_length(length_mm, unit)} ({plain_length(length_mm, _OTHER[unit])})"


def spread(sd_mm: float, unit: Unit) -> str:
    """A standard deviation to the nearest mark of a tape; never zero."""
    if tape_value(sd_mm, unit) == 0:
        least = {Unit.INCH: 25.4 / 8, Unit.CM: 1.0, Unit.MM: 1.0}[unit]
        return f"less than {plain_length(least, unit)}"
    return plain_length(sd_mm, unit)


def rounded(value: Estimate, digits: int = 0) -> str:
    """A mean with its spread, such as "95, give or take 20"."""
    return f"{value.mean:.{digits}f}, give or take {max(value.sd, 10**-digits):.{digits}f}"


def stitches_in(width_mm: float, unit: Unit) -> str:
    """Gauge as patterns give it: the number in 4 in, or in 10 cm."""
    span, words = (101.6, "4 in") if unit is Unit.INCH else (100.0, "10 cm")
    return f"{span / width_mm:.1f} in {words}"


def fine_length(value: Estimate, unit: Unit) -> str:
    """A stitch's measure in mm, also in decimal inches for a maker who uses inches."""
    text = f"{value.mean:.1f} mm, give or take {max(value.sd, 0.1):.1f} mm"
    return text + (f" ({from_mm(value.mean, unit):.2f} in)" if unit is Unit.INCH else "")


def mixed(value: Fraction) -> str:
    """A mixed number, such as "6 1/2"."""
    whole, part = divmod(value, 1)
    if not part:
        return f"{whole}"
    return f"{whole} {part}" if whole else f"{part}"
