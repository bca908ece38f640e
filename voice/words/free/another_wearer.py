"""The piece in work is for somebody else now, in plain words. Common usage, no source."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.state import State
from voice.words.free.amounts import MASK, amounts, masked
from voice.words.free.head_words import head_in
from voice.words.free.matched import Match
from voice.words.free.said import Said
from voice.words.free.wanted import Wanted
from voice.words.free.wearers import aged, head_of, named_wearer

_GIVE = r"\bgiv(?:e|ing) (?:it|this|that|this one|that one|the hat|my hat) to\b"
_FOR = (
    r"\b(?:for (?!me\b|us\b|now\b|the next|a (?:bit|moment|while|minute))\w+|gift"
    r"|(?:goes|go|going) to (?:my|our|a|her|his))\b"
)
_NOW = r"\b(?:instead|now|after all|decided|changed my mind|going to|then|head|heads|anyway)\b"
_HEAD_IS = (
    r"(?:(?:actually|no|sorry|oh|but|and|so|well) )*(?:his|her|my|the|their) head"
    rf"(?: (?:is|measures|was|comes to|really|actually|about|just))+ {MASK}(?: around| now| round)*"
)
_WAS = r"\b(?:made|knitted|crocheted|used to|last (?:year|week|month|time|winter|summer))\b"
_ASKS = r"^(?:how|what|which|who|where|when|is|are|can|could|do|does|did|should|will|would)\b"


def another_wearer(words: str, state: State) -> Match | Wanted | None:
    """The head of whoever it is for now, to be asked about, or the age of the child it is for;
    None for other words.
    """
    if not state.settings.shape.for_head:
        return None
    if re.fullmatch(_HEAD_IS, masked(words)):
        return Match(c.Change("head_mm", amounts(words)[0]), asks=True)
    gives = re.search(_GIVE, words) or (re.search(_FOR, words) and re.search(_NOW, words))
    if (
        not gives
        or not named_wearer(words)
        or re.search(_ASKS, words)
        or not state.settings.shape.for_head
    ):
        return None
    told = amounts(words)
    if len(told) == 1 and re.search(r"\bheads?\b", words) and not aged(words, told[0]):
        return Match(c.Change("head_mm", told[0]), asks=True)
    found = head_in(words, state)
    if isinstance(found, Match) and isinstance(found.command, c.HeadOf):
        return Match(found.command, asks=True)
    if isinstance(found, Wanted) or told:
        return found if isinstance(found, Wanted) else None
    grown = head_of(Said(words, words, (), state))
    return Match(grown, asks=True) if grown is not None else None
