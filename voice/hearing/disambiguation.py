"""Which of the commands asked about an answer picks, or puts another number into."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from pattern.session import commands as c
from pattern.trade.lengths import Amount

_NUMBERS = ("amount", "count", "sets", "rounds", "every_min", "yarn")
"""Fields that hold a number as it was said. Ages and seconds may have been said in months or
minutes, and the stitches of a reading along the edge were asked for: these are no such fields."""


def picked(asked: tuple[c.Command, ...], said: c.Command) -> c.Command | None:
    """The asked command that an answer picks by itself, yes or its number; None for none.

    "No, forty" may also put the right number into what was asked; "no" alone means neither.
    """
    if said in asked:
        return said
    match said:
        case c.Yes():
            return asked[0]
        case c.No(amount) if amount is not None:
            return _numbered(asked, amount) or _corrected(asked, amount)
    return by_number(asked, said)


def by_number(asked: tuple[c.Command, ...], said: c.Command) -> c.Command | None:
    """The asked command that a number alone picks; None for none, and for what says its kind."""
    match said:
        case c.Answer(amount) | c.Measured(amount, None, None):
            return _numbered(asked, amount)
    return None


def _numbered(asked: tuple[c.Command, ...], amount: Amount) -> c.Command | None:
    """The command asked about that holds this number."""
    return next((each for each in asked if amount.value in _numbers(each).values()), None)


def _corrected(asked: tuple[c.Command, ...], amount: Amount) -> c.Command | None:
    """The command asked about, with another number; None where none or several may be meant."""
    corrected = {_with_number(each, amount) for each in asked}
    return corrected.pop() if len(corrected) == 1 else None


def _with_number(command: c.Command, amount: Amount) -> c.Command | None:
    """The command with another number, in the unit that it was said in; None where none fits.

    What was asked as less, such as one smaller than the head, stays less.
    """
    names = list(_numbers(command))
    if len(names) != 1:
        return None
    number: Amount | int | None = amount.whole()
    before = getattr(command, names[0])
    if isinstance(before, Amount):
        number = replace(
            amount, value=math.copysign(amount.value, before.value), unit=amount.unit or before.unit
        )
    changed: dict[str, Any] = {names[0]: number}
    return None if number is None else replace(command, **changed)


def _numbers(command: c.Command) -> dict[str, float]:
    """The numbers of a command as they were said, each by the name of its field."""
    found = {name: getattr(command, name, None) for name in _NUMBERS}
    return {
        name: abs(float(number.value if isinstance(number, Amount) else number))
        for name, number in found.items()
        if number is not None
    }
