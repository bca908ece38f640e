"""Pain, told in free words: it is answered wherever it is told. Words: common usage, no source."""

from __future__ import annotations

import re

from voice.words.free.spellings import said_plainly

MOST_WORDS = 25
"""A longer text is no remark on one's hands; our choice."""
_HAND = r"(?:hand|wrist|finger|fingertip|thumb|knuckle|palm|forearm|arm)s?"
_OTHER = r"(?:elbow|shoulder|neck|eye|joint|muscle|tendon)s?"
_ACHES = (
    r"(?:hurt(?:s|ing)?|sore|ach(?:e|es|ing|y)|numb|tingl(?:e|es|ing|y)|cramp(?:s|ed|ing|y)?"
    r"|throb(?:s|bing)?|burn(?:s|ing)?|pain(?:s|ed|ful|ing)?|swollen|asleep|tired|weary|stiff"
    r"|killing me|giving out|locking up|seizing up|gone to sleep|pins and needles|twing(?:e|es|ing)"
    r"|playing up|giving me (?:trouble|grief|gyp|bother)|had enough|worn out|agony)"
)
_MINE = rf"(?:my|the|both|these|me) (?:\w+ )?{_HAND}|my (?:\w+ )?{_OTHER}"
_TELLS = (
    rf"\b(?:{_MINE})\b.*\b{_ACHES}\b",
    rf"\b{_ACHES}\b.*\b(?:in|on|up|down|from) (?:{_MINE})\b",
    rf"^(?:the )?{_HAND} (?:is |are |s )?(?:\w+ )?{_ACHES}\b",
    rf"\b(?:sore|aching|achy|numb|tired|stiff|cramped|tingling|painful) {_HAND}\b",
    rf"\b(?:killing|hurting|wrecking|cramping|straining) (?:{_MINE})\b",
    rf"\b{_HAND} (?:ache|cramp|pain|strain)s?\b",
    rf"\bcan ?not feel (?:my )?{_HAND}\b",
    r"\b(?:pins and needles|carpal tunnel|tendonitis|tendinitis|repetitive strain|r s i|rsi)\b",
    r"^(?:ow|ouch|ow ow|(?:ow |ouch )?(?:it|this|that) (?:really )?hurts|i am (?:in pain|hurting)"
    r"|i have (?:got )?(?:a )?(?:pain|cramp)s?)$",
)
_NO_MORE = rf"\b(?:not|never|no longer|no|without|stopped) (?:\w+ )?{_ACHES}\b"
_OF_OTHERS = r"\b(?:her|his|their|your|whose)\b"
_MINUTES = r"\b(?:every|each|minutes?)\b"
"""A rhythm of rests is wanted, which is a command of its own."""


def hurts(text: str) -> bool:
    """Whether the maker says that hands, arms or eyes hurt, tingle or go numb."""
    words = said_plainly(text)
    if len(words.split()) > MOST_WORDS or re.search(rf"{_NO_MORE}|{_OF_OTHERS}|{_MINUTES}", words):
        return False
    return any(re.search(pattern, words) for pattern in _TELLS)


def says_more(text: str) -> bool:
    """Whether something else is said along with the pain: "my hands are sore, I'll stop here"."""
    clauses = re.split(r"[,.;:!?]| (?:so|and|but) ", text)
    return any(len(clause.split()) > 2 and not hurts(clause) for clause in clauses)
