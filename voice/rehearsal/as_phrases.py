"""Words of a scenario that name a yarn, hook, stitch, head or shape, as the phrase that is spoken.

The names are those that speech and options take; a phrase is what the rehearsal can be judged by.
"""

from __future__ import annotations

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.interview import BEGIN, QUESTIONS
from pattern.trade.head_medians import Sex
from pattern.trade.lengths import Unit
from pattern.trade.yarns_and_hooks import YARNS
from voice.sentences.amounts import decimal
from voice.words.free.clear import clear
from voice.words.free.matched import Match
from voice.words.free.matching import match
from voice.words.phrases import read
from voice.words.spoken_numbers import say_integer

_PERSONS = {Sex.FEMALE: ("woman", "girl"), Sex.MALE: ("man", "boy"), None: ("adult", "child")}
_UNITS = {Unit.CM: "centimetres", Unit.INCH: "inches", Unit.MM: "millimetres"}


def as_phrase(words: str, key: str | None = None) -> str | None:
    """The words themselves where they are a phrase, or one that means what they name; None for
    words that name nothing. `key` is the question that they answer.
    """
    if read(words) is not None:
        return words
    others = {BEGIN, *QUESTIONS} - {key} if key is not None else ()
    state = State(answered=tuple(others))
    found = clear(words, state)
    if found is None and key is not None:
        likely = match(words, state)
        found = likely if likely.expected else None
    phrase = _phrase(found.command) if isinstance(found, Match) else None
    return phrase if phrase is not None and read(phrase) is not None else None


def _phrase(command: c.Command | None) -> str | None:
    match command:
        case c.Choose("yarn", number):
            return f"{YARNS[int(number or 0)].name} weight"
        case c.Choose("shape", name):
            return f"a {name}"
        case c.Choose("stitch", name):
            return f"{name} crochet"
        case c.Choose("unit", name):
            return _UNITS[Unit(str(name))]
        case c.Change("hook_mm", amount):
            return f"hook {decimal(amount.value)} millimetres"
        case c.Change("head_mm", amount):
            unit = _UNITS[amount.unit] if amount.unit else ""
            return f"change the head to {decimal(amount.value)} {unit}".rstrip()
        case c.Change("brim_mm", amount):
            return f"make the brim {decimal(amount.value)}"
        case c.HeadOf(age_years, sex):
            return _head(age_years, sex)
    return None


def _head(age_years: float | None, sex: Sex | None) -> str:
    grown, child = _PERSONS[sex]
    if age_years is None:
        return f"{'an' if grown == 'adult' else 'a'} {grown}"
    if age_years < 2:
        return f"a baby of {say_integer(round(age_years * 12))} months"
    return f"a {child} of {say_integer(round(age_years))}"
