"""Amounts in widths of the hand, read out of plain words: "two and a half fingers", "a thumb"."""

from __future__ import annotations

import re
from dataclasses import dataclass

from pattern.session.commands import OwnUnit
from pattern.trade.lengths import TAPE_UNITS, Amount
from voice.words import spoken_numbers
from voice.words.free.amounts import amounts, masked

OWN = "own"
"""The word that stands for an amount in widths of the hand."""
_UNIT = re.compile(
    r"\b(?P<unit>finger|thumb|hand)s?(?: s)?(?: (?:width|breadth|thickness)s?)?\b"
    r"(?P<half> and a half)?"
)
_ONE = frozenset({"a", "one", "another"})
_NUMBERS: dict[str, float] = {"half a": 0.5, "a couple of": 2.0, "couple of": 2.0, "a half": 0.5}
_LONGEST = 4
"""Words of the longest number before a width: "two and a half"."""


@dataclass(frozen=True, slots=True)
class Masked:
    """Plain words with their one amount masked, and the amount."""

    words: str
    amount: Amount | None = None
    unit: OwnUnit | None = None
    """The part of the hand that the amount counts; None for a length."""


def one_amount(words: str) -> Masked:
    """The one amount of the words, in widths of the hand or else a length with a unit of a tape."""
    for found in _UNIT.finditer(words):
        before = words[: found.start()].split()
        for used in range(min(_LONGEST, len(before)), 0, -1):
            number = _number(" ".join(before[-used:]))
            if number is None:
                continue
            more = 0.5 if found["half"] else 0.0
            left, right = " ".join(before[:-used]), words[found.end() :]
            amount = Amount(number.value + more, 0.5 if more else number.step)
            return Masked(f"{left} {OWN}{right}".strip(), amount, OwnUnit(found["unit"]))
    lengths = amounts(words)
    if len(lengths) == 1 and lengths[0].unit in TAPE_UNITS:
        return Masked(masked(words), lengths[0])
    return Masked(words)


def _number(words: str) -> Amount | None:
    if words in _ONE:
        return Amount(1.0)
    if words in _NUMBERS:
        value = _NUMBERS[words]
        return Amount(value, 0.5 if value < 1 else 1.0)
    number = spoken_numbers.read_number(words)
    return number if number is not None and number.value > 0 else None
