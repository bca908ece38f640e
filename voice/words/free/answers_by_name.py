"""Answers of the interview that are told by a name: of a yarn, hook, head, shape or stitch.

Words: common practice, no source.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import replace

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.shape_names import shape_in
from pattern.trade import names
from pattern.trade.head_medians import Sex
from pattern.trade.lengths import Amount, Unit
from pattern.trade.techniques import Technique
from voice.words import spoken_numbers
from voice.words.free.ages import age_told, with_people
from voice.words.free.amounts import amounts
from voice.words.free.matched import Match
from voice.words.free.said import Said
from voice.words.free.wanted import Number, Wanted
from voice.words.free.wearers import aged, child_sex, head_of, named_wearer

_LEAST_SIZE, _MOST_SIZE = 5.0, 8.5
"""US hat sizes, of a baby and of the biggest heads."""


def name_in_answer(words: str, state: State) -> Match | Wanted | None:
    """The meaning of an answer by the name in it, or the number that it lacks; else None."""
    reader = _READERS.get(state.question or "")
    if reader is not None and (found := reader(words, state)) is not None:
        return found
    if (shape := shape_in(words)) is not None:
        return Match(c.Choose("shape", shape))
    stitch = names.stitch_word_in(words)
    if stitch is not None and (state.question == "stitch" or "crochet" in words):
        return Match(c.Choose("stitch", stitch))
    if state.question is None:
        return None
    return next((found for read in _UNASKED if (found := read(words, state)) is not None), None)


def _unit(words: str, _state: State) -> Match | None:
    inches = re.search(r"\b(inch|inches|imperial)\b", words)
    metric = re.search(r"\b(centimet(re|er)s?|cm|metric)\b", words)
    if (inches is None) == (metric is None) or amounts(words):
        return None
    return Match(c.Choose("unit", (Unit.INCH if inches else Unit.CM).value))


_KIND_OF_YARN = (
    r"\b(?:thick|thicker|thin|thinner|class|classes|band|label|wool|woolly|acrylic|cotton|yarn|stuff"
    r"|drawer|stash)\b"
)
"""Words about yarn that tell no class."""


def _yarn(words: str, state: State) -> Match | None:
    named = names.yarn_in(words)
    if named is not None:
        return Match(c.Choose("yarn", named))
    if state.question == "yarn" and not amounts(words) and re.search(_KIND_OF_YARN, words):
        return Match(c.Explain(Technique.YARN_CLASS))
    return None


def _hook(words: str, _state: State) -> Match | None:
    named = names.hook_in(_in_digits(words))
    return None if named is None else Match(c.Change("hook_mm", Amount(named, 0.25, Unit.MM)))


def _in_digits(words: str) -> str:
    """Whole numbers as digits, and "and a half" as 1/2, as they are marked on hooks."""
    found = [spoken_numbers.read_integer(word) for word in words.split()]
    written = " ".join(
        word if number is None else str(number)
        for word, number in zip(words.split(), found, strict=True)
    )
    return written.replace(" and a half", " 1/2")


def _head(words: str, state: State) -> Match | Wanted | None:
    found = amounts(words)
    if (years := age_told(words)) is not None:
        return Match(c.HeadOf(years, child_sex(with_people(words))))
    if found and aged(words, found[-1]):
        told = head_of(_said(words, state))
        return Match(told) if told is not None else None
    if found:
        return _size(words, found[-1], state)
    if re.search(r"\bnew ?born\b", words):
        return Match(c.HeadOf(0.0))
    if re.search(r"\b(baby|infant|toddler|bairn)\b", words):
        return Wanted(Number.BABY_AGE)
    if (sex := _child(words)) is not None or re.search(r"\b(child|kid|teenager)\b", words):
        return Wanted(Number.CHILD_AGE, sex)
    if re.search(
        r"\b(big|large|huge|small|little|tiny) (head|noggin)|\b(big|small)headed\b", words
    ):
        return Wanted(Number.HEAD)
    named = names.head_size_in(words)
    return None if named is None else _head_of(named, 10.0, state)


def _head_of(girth_mm: float, step_mm: float, state: State) -> Match:
    """A head in the maker's own unit, which stays."""
    unit = state.settings.unit
    one_mm = Amount(1.0, unit=unit).mm(unit)
    return Match(c.Change("head_mm", Amount(girth_mm / one_mm, step_mm / one_mm, unit)))


def _size(words: str, amount: Amount, state: State) -> Match | None:
    """A hat size, from its number of inches through the head."""
    if amount.unit is not None or not re.search(r"\b(size|us|hat)\b", words):
        return None
    if not _LEAST_SIZE <= amount.value <= _MOST_SIZE:
        return None
    return _head_of(25.4 * math.pi * amount.value, 1.0, state)


def _child(words: str) -> Sex | None:
    if re.search(r"\b(girl|daughter|niece|granddaughter)\b", words):
        return Sex.FEMALE
    return Sex.MALE if re.search(r"\b(boy|son|nephew|grandson)\b", words) else None


def yarn_in_words(words: str, state: State) -> Match | None:
    """Yarn that is told though something else is asked: its name says that it is yarn."""
    return _yarn(words, state) if re.search(_SURELY_YARN, words) else None


def hook_in_words(words: str, state: State) -> Match | None:
    """A hook that is told though something else is asked: it is called a hook."""
    if not re.search(r"\bhooks?\b", words):
        return None
    found = [amount for amount in amounts(words) if amount.unit in {None, Unit.MM}]
    if len(found) == 1:
        return Match(c.Change("hook_mm", replace(found[0], unit=Unit.MM)))
    return _hook(words, state)


def _unit_unasked(words: str, state: State) -> Match | None:
    question = re.match(r"(?:how|what|is|are|can|does|do|which)\b", words)
    return None if question else _unit(words, state)


def wearer_in(words: str, state: State) -> Match | Wanted | None:
    """A head by its wearer, though something else is asked."""
    if state.question == "head_mm" and age_told(words) is not None:
        return _head(words, state)
    words = re.sub(_NO_PERSON, " ", words)
    if not re.search(r"\b(?:for|head|heads|wears?|wearing)\b", words):
        return None
    if re.search(_FIT, words):
        return None
    found = amounts(words)
    if len(found) == 1 and re.search(r"\bheads?\b", words) and not aged(words, found[0]):
        return Match(c.Change("head_mm", found[0]))
    if (wanted := _head(words, state)) is not None:
        return wanted
    measured = named_wearer(words) and not amounts(words)
    told = head_of(_said(words, state)) if measured else None
    return Match(told) if told is not None else None


def _said(words: str, state: State) -> Said:
    return Said(words, words, amounts(words), state)


_NO_PERSON = (
    r"\b(?:she|her|he|him|his)\b"
    r"|\b(?:pick|choose|decide|do|find|say|read|tell|work) (?:it |that |one )?for me\b"
)
"""Words that name nobody, where it is not asked whose head it is."""
_FIT = r"\b(?:smaller|littler|bigger|larger|tighter|looser|less|more|narrower|wider) than\b"
"""Words of a difference to the head, which is no head."""
_SURELY_YARN = (
    r"\b(?:yarns?|wool|cotton|weight|ply|dk|double knit(?:ting)?|worsted|aran|chunky|bulky"
    r"|lace ?weight|fingering|sport ?weight|jumbo|roving)\b"
)
_READERS: dict[str, Callable[[str, State], Match | Wanted | None]] = {
    "unit": _unit,
    "yarn": _yarn,
    "hook_mm": _hook,
    "head_mm": _head,
}
"""Readers of names by the question that stands."""
_UNASKED = (hook_in_words, yarn_in_words, _unit_unasked, wearer_in)
"""Readers of names that are told before they are asked for."""
