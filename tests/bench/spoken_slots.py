"""Numbers for the bench's phrases: what the maker has in hand at that moment, in words."""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping
from fractions import Fraction

from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.trade.lengths import Unit
from pattern.trade.yarns_and_hooks import HOOKS_MM
from tests.bench.moments import Moment, tape_words, unit_of
from voice.words.spoken_numbers import say_fraction, say_integer

_SLIPS = (0, 0, 0, 0, -1, 1, -2, 2)
"""How far a count is from the true one: an invented share."""
_ODD = (1, 2, 3, 4)
"""Rounds, repeats or years that are said where any small number may be."""


def filled(example: c.Command, moment: Moment, rng: random.Random) -> tuple[str, str]:
    """Words for a length and for a whole number in a phrase that means a command like `example`."""
    match example:
        case c.Measured(_, kind, _):
            return _reading(kind, moment, rng)
        case c.Answer() if moment.state.question is not None:
            return _setting(moment.state.question, moment, rng)
        case c.Answer() | c.No():
            return _reading(None, moment, rng)
        case c.Change(key, _):
            return _setting(key, moment, rng)
        case c.AlsoFor():
            return _setting("head_mm", moment, rng)
        case c.Another(amount, _) if amount is not None:
            return _setting("head_mm", moment, rng)
        case c.Swatch(_, _, by_rounds, _):
            gauge = moment.state.piece.gauge
            one_mm = gauge.height_mm if by_rounds else gauge.width_mm
            count = rng.choice((10, 12, 16, 20))
            read = tape_words(moment.work.maker, count * one_mm)
            return _said(*read, rng), say_integer(count)
        case c.Adjust():
            return _length(Fraction(rng.randint(1, 6), 4), moment, rng), "one"
        case _:
            return "", say_integer(_count(example, moment, rng))


def _count(example: c.Command, moment: Moment, rng: random.Random) -> int:
    state = moment.state
    match example:
        case c.Counted():
            return max(1, state.piece.stitches + rng.choice(_SLIPS))
        case c.Sets(_, more):
            sets = state.offered.sets if state.offered else 6
            # "One sets" is nothing that people say.
            return rng.randint(2, max(2, sets - (state.sets if more else 0)))
        case c.HeadOf(age, _) | c.HeadSize(age, _):
            return rng.randint(2, 14) if age is None or age >= 1 else rng.randint(1, 23)
        case _:
            return rng.choice(_ODD)


def _reading(kind: Kind | None, moment: Moment, rng: random.Random) -> tuple[str, str]:
    """The tape's reading of what is measured, or of what is asked for, and its stitches."""
    want, piece = moment.state.want, moment.state.piece
    asked = want.kind if want is not None and want.kind is not Kind.LOOK else Kind.ACROSS
    along = (want.stitches if want is not None else None) or rng.choice((8, 10, 12, 16, 20))
    kind = kind or asked
    true_mm = moment.work.true_mm(kind, piece.stitches, along)
    number, unit = tape_words(moment.work.maker, true_mm)
    return _said(number, unit, rng), say_integer(along)


_INCHES: Mapping[str, Callable[[random.Random], Fraction]] = {
    "head_mm": lambda rng: Fraction(rng.randint(68, 96), 4),
    "ease_mm": lambda rng: Fraction(rng.randint(1, 8), 4),
    "depth_mm": lambda rng: Fraction(rng.randint(24, 36), 4),
    "brim_mm": lambda rng: Fraction(rng.randint(6, 16), 4),
}
"""Lengths that people want, in inches."""
_NUMBERS: Mapping[str, tuple[int, ...]] = {
    "yarn": tuple(range(8)),
    "start": tuple(range(5, 13)),
    "slope_deg": tuple(range(5, 50, 5)),
}

NUMBERS_ASKED = {*_INCHES, *_NUMBERS, "hook_mm"}
"""Questions that a number answers."""


def _setting(key: str, moment: Moment, rng: random.Random) -> tuple[str, str]:
    if key in _INCHES:
        return _length(_INCHES[key](rng), moment, rng), "six"
    if key == "hook_mm":
        size = Fraction(rng.choice([mm for mm in HOOKS_MM if 3 <= mm <= 10]))
        unit = rng.choice(("", " millimetres"))
        return (say_fraction(size) if unit else _spoken_decimal(size)) + unit, "five"
    number = say_integer(rng.choice(_NUMBERS.get(key, (6,))))
    return number, number


def _spoken_decimal(number: Fraction) -> str:
    whole, rest = divmod(number, 1)
    digits = f"{float(rest):.2f}".rstrip("0")[2:]
    said = say_integer(int(whole))
    return said + (" point " + " ".join(say_integer(int(d)) for d in digits) if digits else "")


def _length(inches: Fraction, moment: Moment, rng: random.Random) -> str:
    """A wanted length in the maker's unit: quarters of an inch, or half centimetres."""
    unit = unit_of(moment.work.maker)
    if unit is Unit.CM:
        inches = Fraction(max(1, round(inches * Fraction(508, 100))), 2)
    return _said(inches, unit, rng)


def _said(number: Fraction, unit: Unit, rng: random.Random) -> str:
    """With or without its unit, the fraction before or after it; centimetres as decimals."""
    named = {Unit.INCH: "inches", Unit.CM: "centimetres"}[unit]
    plain = _spoken_decimal(number) if unit is Unit.CM else say_fraction(number)
    whole, rest = divmod(number, 1)
    if number <= 1:
        named = {"inches": "inch", "centimetres": "centimetre"}[named]
    way = rng.randrange(4)
    if way < 2:
        return plain
    if way == 2 and unit is Unit.INCH and whole and rest:
        return f"{say_integer(int(whole))} {'inch' if whole == 1 else 'inches'} and " + (
            say_fraction(rest)
        )
    return f"{plain} of an inch" if unit is Unit.INCH and number < 1 else f"{plain} {named}"
