"""Builds the head of a wearer who is named in free words."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.trade.head_medians import Sex
from voice.words.free.said import Said

_GIRLS = r"\b(girl|lass|lassie|daughter|niece|grand ?daughter|sister|she|her)\b"


_BOYS = r"\b(boy|laddie|son|nephew|grand ?son|brother|he|him|lad)\b"


_WOMEN = r"\b(woman|women|lady|ladies|wife|mum|mom|mother|gran|granny|grandma|aunt|female|womens)\b"


_MEN = r"\b(man|men|bloke|guy|husband|dad|father|grandad|grandpa|uncle|male|gentleman|mens|fella)\b"


def head_of(said: Said) -> c.Command | None:
    """A head told by the person: a grown one, or a child or baby by its age."""
    words = said.words
    if (age := said.whole) is not None:
        sex = _sex(words, _GIRLS, _BOYS)
        return c.HeadOf(age / 12 if "month" in words else float(age), sex)
    sex = _sex(words, _WOMEN, _MEN) or _sex(words, r"\b(she|her|hers)\b", r"\b(he|his)\b")
    return None if said.amounts else c.HeadOf(None, sex)


def named_wearer(words: str) -> bool:
    """Whether plain words name the person whose head it is."""
    myself = r"\b(?:for me|my own head|my head|myself|adult|grown ?up|friend)\b"
    return any(re.search(people, words) for people in (_GIRLS, _BOYS, _WOMEN, _MEN, myself))


def _sex(words: str, female: str, male: str) -> Sex | None:
    she, he = bool(re.search(female, words)), bool(re.search(male, words))
    if she == he:
        return None
    return Sex.FEMALE if she else Sex.MALE
