"""Lengths and counts as they are spoken: in words, in the maker's unit."""

from __future__ import annotations

import math
from fractions import Fraction

from pattern.shape.settings import Settings
from pattern.trade.lengths import SAID_EXACTLY, Amount, Unit, from_mm, tape_value
from voice.words.spoken_numbers import say_fraction, say_integer

_UNIT_NAMES = {
    Unit.INCH: ("inch", "inches"),
    Unit.CM: ("centimetre", "centimetres"),
    Unit.MM: ("millimetre", "millimetres"),
}
_COARSE = {Unit.INCH: Fraction(1, 4), Unit.CM: Fraction(1, 2), Unit.MM: Fraction(5)}
"""Steps to which "about" is rounded: a quarter of an inch, half a centimetre."""


READ_TO = 16
"""Parts of an inch to which a length is read back that the maker said; others are in eighths."""


def length(length_mm: float, settings: Settings, denominator: int = READ_TO) -> str:
    """The length as the tape shows it, without its unit: "six and a half"."""
    return say_fraction(_on_tape(length_mm, settings, denominator))


def answered(length_mm: float, settings: Settings) -> str:
    """A length that may be the maker's answer, without its unit: its quarters stay quarters."""
    return say_fraction(tape_value(length_mm, settings.unit, said=True))


def answered_with_unit(length_mm: float, settings: Settings) -> str:
    """The same with its unit."""
    return _named(tape_value(length_mm, settings.unit, said=True), settings.unit)


def with_unit(length_mm: float, settings: Settings, denominator: int = READ_TO) -> str:
    """The length with its unit: "six and a half inches", "half an inch"."""
    return _named(_on_tape(length_mm, settings, denominator), settings.unit)


def _on_tape(length_mm: float, settings: Settings, denominator: int) -> Fraction:
    said = denominator == READ_TO
    return tape_value(max(length_mm, 0.0), settings.unit, denominator, said=said)


def as_adjective(length_mm: float, settings: Settings) -> str:
    """The length before a noun: "a six centimetre brim"."""
    value = tape_value(max(length_mm, 0.0), settings.unit, 8)
    return f"{say_fraction(value)} {_UNIT_NAMES[settings.unit][0]}"


def about(length_mm: float, settings: Settings) -> str:
    """The length roughly, without its unit."""
    step = _COARSE[settings.unit]
    return say_fraction(round(from_mm(max(length_mm, 0.0), settings.unit) / step) * step)


def roughly(length_mm: float, settings: Settings) -> float:
    """The length as "about" says it, in millimetres."""
    step_mm = Amount(float(_COARSE[settings.unit]), unit=settings.unit).mm(settings.unit)
    return round(length_mm / step_mm) * step_mm


def about_with_unit(length_mm: float, settings: Settings) -> str:
    """The length roughly, with its unit; never nothing."""
    step = _COARSE[settings.unit]
    steps = max(round(from_mm(length_mm, settings.unit) / step), 1)
    return _named(steps * step, settings.unit)


def _named(value: Fraction, unit: Unit) -> str:
    one, many = _UNIT_NAMES[unit]
    if value == Fraction(1, 2):
        return f"half {'an' if unit is Unit.INCH else 'a'} {one}"
    if 0 < value < 1 and unit is Unit.INCH:
        return f"{say_fraction(value)} of an inch"
    return f"{say_fraction(value)} {one if value == 1 else many}"


def limits(least_mm: float, most_mm: float, settings: Settings) -> tuple[str, str]:
    """Both ends of a range, rounded inwards so that what is said is allowed; the unit last."""
    step, unit = _COARSE[settings.unit], settings.unit
    low = math.ceil(from_mm(least_mm, unit) / step) * step
    high = math.floor(from_mm(most_mm, unit) / step) * step
    return say_fraction(max(low, Fraction(0))), _named(high, unit)


def decimal(number: float) -> str:
    """A number to hundredths: "four point five" is "four and a half", as makers say it."""
    return say_fraction(Fraction(round(number * 100), 100))


_EXACT_BELOW = 50
"""Larger amounts that were told in another unit are said whole; our choice."""


def whole(number: float) -> str:
    """A number as it was told; a large one that was converted, whole: "eight ounces" are 227 grams,
    and "sixty two and a half" stay so.
    """
    told = abs(number * 10 - round(number * 10)) < SAID_EXACTLY
    return decimal(number if told or number < _EXACT_BELOW else round(number))


def counted(number: int, one: str, many: str = "") -> str:
    """A number of things: "one round", "four rounds"."""
    return f"{say_integer(number)} {one if number == 1 else many or one + 's'}"


def with_article(words: str) -> str:
    """Words that begin with a number in words, after "a", or "an" where it is heard so."""
    return f"{'an' if words.startswith(('eight', 'eleven')) else 'a'} {words}"


def capital(sentence: str) -> str:
    """The sentence with a capital first letter."""
    return sentence[:1].upper() + sentence[1:]


def joined(*sentences: str) -> str:
    """The sentences that say something, one after another."""
    return " ".join(capital(sentence) for sentence in sentences if sentence)
