"""Heads in an answer: by age, by wearer, by size, or asked about. Common practice, no source."""

from __future__ import annotations

import math
import re

from pattern.session import commands as c
from pattern.session.state import State
from pattern.trade import names
from pattern.trade.head_medians import Sex
from pattern.trade.lengths import Amount
from pattern.trade.techniques import Technique
from voice.words.free.ages import age_told, with_people
from voice.words.free.amounts import amounts
from voice.words.free.heads_told import ADJECTIVES, grown_head_in
from voice.words.free.matched import Match
from voice.words.free.said import Said
from voice.words.free.told_lengths import rounded
from voice.words.free.wanted import Number, Wanted
from voice.words.free.wearers import aged, child_sex, head_of

_LEAST_SIZE, _MOST_SIZE = 5.0, 8.5
"""US hat sizes, of a baby and of the biggest heads."""


def head_in(words: str, state: State) -> Match | Wanted | None:
    """The head that an answer names, the number that it lacks, or what it asks of heads."""
    found = amounts(words)
    if (years := age_told(words)) is not None:
        return Match(c.HeadOf(years, child_sex(with_people(words))))
    if found and aged(words, found[-1]):
        told = head_of(Said(words, words, amounts(words), state))
        return Match(told) if told is not None else None
    if found:
        return _size(words, found[-1], state)
    if re.search(r"\bnew ?born\b", words):
        return Match(c.HeadOf(0.0))
    if re.search(r"\b(baby|infant|toddler|bairn)\b", words):
        return Wanted(Number.BABY_AGE)
    if (sex := _child(words)) is not None or re.search(r"\b(child|kid|teenager)\b", words):
        return Wanted(Number.CHILD_AGE, sex)
    if (grown := grown_head_in(words)) is not None:
        return _head_of(grown, 10.0, state)
    if re.search(rf"\b(?:{ADJECTIVES}) (?:head|noggin)|\b(?:big|small)headed\b", words):
        return Wanted(Number.HEAD)
    if re.search(_HOW_BIG, words):
        return Match(c.Ask(c.Asked.HEADS))
    if re.search(_WHERE_ON_HEAD, words):
        return Match(c.Explain(Technique.HEAD))
    named = names.head_size_in(re.sub(_GROWN, r"\1", words))
    return None if named is None else _head_of(named, 10.0, state)


_HOW_BIG = r"\b(?:do not|no idea|not sure|no clue)\b.*\b(?:how big|what size|the size)\b"
_WHERE_ON_HEAD = (
    r"\b(?:around or across|across or around|what do you mean|where (?:do|should) i (?:measure|put)"
    r"|what should i measure|how do i measure)\b"
)
_GROWN = (
    r"\b(small|medium|large) (?:adult|grown ?up|woman|man|lady|ladies|womens|mens)s?\b"
    r"(?: i (?:would|will|should) say| i think| i guess)?"
)


def _head_of(girth_mm: float, step_mm: float, state: State) -> Match:
    return Match(c.Change("head_mm", rounded(girth_mm, step_mm, state.settings.unit)))


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
