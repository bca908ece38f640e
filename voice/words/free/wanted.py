"""Numbers that a question wants which free wording led to, and the command each makes."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum

from pattern.session import commands as c
from pattern.session.state import State
from pattern.trade.head_medians import Sex
from pattern.trade.hook_names import hook_in
from pattern.trade.lengths import Amount, Unit
from pattern.trade.techniques import Technique
from voice.words.free.amounts import amounts
from voice.words.free.spellings import said_plainly


class Number(StrEnum):
    """A number that mends something, or that is missing."""

    BABY_AGE = "baby age"
    CHILD_AGE = "child age"
    BETWEEN = "between"
    """Plain stitches between two increases, of a lost place."""
    SO_FAR = "so far"
    """Stitches from the marker to the hook, of a lost count."""
    HEAD = "head"
    """Of a big head, or a small one, by the tape."""
    HOOK = "hook"
    """Size or name of a hook that was taken."""
    ROUND = "round"
    """Stitches of the last whole round, where something went wrong."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """A number asked for, and whose it is."""

    number: Number
    sex: Sex | None = None


_MENDED_BY: dict[c.Command, Number] = {
    c.Help("a lost place"): Number.BETWEEN,
    c.Help("counting"): Number.SO_FAR,
    c.Explain(Technique.DROPPED): Number.ROUND,
    c.Explain(Technique.MISTAKE): Number.ROUND,
}
"""Mishaps, and the number that leads out of each."""


def mending(command: c.Command, state: State) -> Wanted | None:
    """The number that mends a mishap; None for any other command, or before the first round."""
    number = _MENDED_BY.get(command)
    if number is None or state.offered is None or not state.piece.finished:
        return None
    return Wanted(number)


def hook_told(words: str, amount: Amount | None) -> c.Change | None:
    """A change of the hook by the name or the size in plain words; None where they hold none."""
    named = hook_in(words)
    if named is not None:
        return c.Change("hook_mm", Amount(named, 0.25, Unit.MM))
    return c.Change("hook_mm", amount) if amount is not None else None


_TAKEN_OUT = (
    r"\b(?:rip|ripped|frog|frogged|tinked|pulled|took) (?:\w+ )*?(?:back|out|rounds?|rows?)\b"
)
"""Such a number is of rounds, and answers nothing."""


def answering(wanted: Wanted, text: str) -> c.Command | None:
    """The command that a text with the number makes; None where it holds no such number."""
    words = said_plainly(text)
    if re.search(_TAKEN_OUT, words):
        return None
    found = amounts(words)
    amount = found[-1] if found else None
    if amount is None and words == "one":
        amount = Amount(1.0)
    if wanted.number is Number.HOOK:
        return hook_told(words, amount)
    if amount is not None and wanted.number is Number.HEAD:
        return c.Answer(amount)
    if amount is None or amount.unit is not None:
        return None
    if wanted.number in {Number.BABY_AGE, Number.CHILD_AGE}:
        return _aged(wanted, amount, words)
    count = amount.whole()
    if count is None:
        return None
    match wanted.number:
        case Number.BETWEEN:
            whole_round = any(word in words.split() for word in ("around", "round", "all"))
            return c.LostAt(count, between=not whole_round)
        case Number.SO_FAR:
            return c.CountedIn(count)
        case _:
            return c.Counted(count)


OLDEST_YEARS = 20.0
"""No child is older: a larger number is the head, by the tape. Our choice."""


def _aged(wanted: Wanted, amount: Amount, words: str) -> c.Command:
    if amount.value > OLDEST_YEARS and "month" not in words and "year" not in words:
        return c.Change("head_mm", amount)
    months = "month" in words or (wanted.number is Number.BABY_AGE and "year" not in words)
    return c.HeadOf(amount.value / 12 if months else amount.value, wanted.sex)
