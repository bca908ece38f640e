"""Builds the head of a wearer who is named in free words."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.trade.head_medians import Sex
from pattern.trade.lengths import Amount
from voice.words.free.amounts import MASK, masked
from voice.words.free.said import Said

_GIRLS = r"\b(girl|lass|lassie|daughter|niece|grand ?daughter|sister|she|her)\b"


_BOYS = r"\b(boy|laddie|son|nephew|grand ?son|brother|he|him|lad)\b"


_WOMEN = (
    r"\b(woman|women|lady|ladies|wife|mum|mom|mother|gran|granny|grandma|aunt|female|wom[ea]ns)\b"
)


_MEN = (
    r"\b(man|men|bloke|guy|husband|dad|father|grandad|grandpa|uncle|male|gentleman|m[ea]ns|fella)\b"
)


def head_of(said: Said) -> c.Command | None:
    """A head told by the person: a grown one, or a child or baby by its age."""
    words = said.words
    if said.amount is not None and said.amount.unit is None:
        age = said.amount.value
        months = re.search(rf"{MASK} months?\b", masked(words)) is not None
        return c.HeadOf(age / 12 if months else age, child_sex(words))
    sex = _sex(words, _WOMEN, _MEN) or _sex(words, r"\b(she|her|hers)\b", r"\b(he|his)\b")
    return None if said.amounts else c.HeadOf(None, sex)


def child_sex(words: str) -> Sex | None:
    """Whether plain words tell of a girl or a boy."""
    return _sex(words, _GIRLS, _BOYS)


OLDEST_CHILD = 17
"""Years from which a bare number beside a person is no age; our choice."""
_CHILD = r"\b(baby|newborn|infant|toddler|bairn|child|kid|kiddie|teenager|little one|wee one)\b"
_AGE = r"\b(years?|months?|old|aged?|turns|turning|turned|birthday)\b"
_TAPE = r"\b(head|around|round|measures?|size|hat|class|hook)\b"


_OF_YEARS = (
    r"\b(?:girl|boy|lass|lassie|lad|laddie|child|kid|daughter|son|grand ?son|grand ?daughter|niece"
    rf"|nephew|he|she) (?:of|is|who is|aged) {MASK}\b"
)


def aged(words: str, amount: Amount) -> bool:
    """Whether the number in plain words is an age: said so, or small and beside a child."""
    if amount.unit is not None or not named_wearer(words):
        return False
    if re.search(_AGE, words) or re.search(_OF_YEARS, masked(words)):
        return True
    child = any(re.search(who, words) for who in (_GIRLS, _BOYS, _CHILD))
    grown = re.search(_WOMEN, words) or re.search(_MEN, words)
    return child and not grown and amount.value <= OLDEST_CHILD and not re.search(_TAPE, words)


def named_wearer(words: str) -> bool:
    """Whether plain words name the person whose head it is."""
    myself = (
        r"\b(?:for me|my own head|my head|myself|adult|grown ?up|friend|partner"
        r"|(?:other|better) half)\b"
    )
    people = (_GIRLS, _BOYS, _CHILD, _WOMEN, _MEN, myself)
    return any(re.search(who, words) for who in people)


def _sex(words: str, female: str, male: str) -> Sex | None:
    she, he = bool(re.search(female, words)), bool(re.search(male, words))
    if she == he:
        return None
    return Sex.FEMALE if she else Sex.MALE
