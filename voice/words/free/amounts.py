"""Amounts inside a wording: read out in their order, and masked."""

from __future__ import annotations

import re
from functools import lru_cache

from pattern.trade.lengths import Amount
from voice.words import spoken_numbers

MASK = "num"
"""The word that stands for an amount."""
_LONGEST = 9
"""Words of the longest amount: "two hundred and twenty four and three eighths of an inch"."""
_DENIED = frozenset({"not", "minus"})
_NOT_ALONE = frozenset({"a", "an", "in", "m", "g", "and", "point", "oh", "one"})
"""Words that are an amount, or its unit, only beside other words of one; "one" is often nobody."""


def amounts(words: str) -> tuple[Amount, ...]:
    """The amounts of plain words, in their order: without those denied ("not thirteen", "minus
    four"), and without a "one" alone.
    """
    found, before = [], ""
    for amount, word in _parts(words):
        if amount is not None and before not in _DENIED:
            found.append(amount)
        before = word
    return tuple(found)


def amount_first(words: str) -> tuple[Amount, str] | None:
    """The amount that words begin with, and the words after it; a "one" counts here."""
    tokens = words.split()
    if not tokens:
        return None
    found, used = _amount_at(tokens, 0)
    if found is None and tokens[0] == "one":
        found, used = Amount(1.0), 1
    return (found, " ".join(tokens[used:])) if found is not None else None


def masked(words: str) -> str:
    """The words with every amount, and its unit, as one mask."""
    return " ".join(MASK if found is not None else word for found, word in _parts(words))


def with_amount(words: str, number: str) -> str | None:
    """The words with another number in place of their last amount, whose unit stays where the
    number has none; None where they hold none.
    """
    parts = list(_parts(words))
    places = [at for at, (found, _) in enumerate(parts) if found is not None]
    if not places:
        return None
    before, last = parts[places[-1]]
    told, (*start, unit) = spoken_numbers.read_amount(number), last.split()
    if before is not None and before.unit is not None and told is not None and told.unit is None:
        bare = spoken_numbers.read_amount(" ".join(start))
        number = f"{number} {unit}" if bare is not None and bare.unit is None else number
    return " ".join(number if at == places[-1] else word for at, (_, word) in enumerate(parts))


@lru_cache(maxsize=64)
def _parts(words: str) -> tuple[tuple[Amount | None, str], ...]:
    """Amounts and the words between them; the longest amount that begins at a word is taken.

    Kept for a while, since many rules look at the same words.
    """
    words = re.sub(r" and a (?:(?:wee|little|tiny) )?(?:bit|touch|tad|smidge)\b", "", words)
    words = re.sub(r"\b(?:other|better) half\b", "partner", words)
    tokens = re.sub(r"\ba couple(?: of)?\b", "two", words).replace(" comma ", " point ").split()
    parts, at = list[tuple[Amount | None, str]](), 0
    while at < len(tokens):
        found, used = _amount_at(tokens, at)
        parts.append((found, " ".join(tokens[at : at + used])))
        at += used
    return tuple(parts)


def _amount_at(tokens: list[str], at: int) -> tuple[Amount | None, int]:
    if not _begins(tokens[at]):
        return None, 1
    for used in range(min(_LONGEST, len(tokens) - at), 0, -1):
        text = " ".join(tokens[at : at + used])
        after = tokens[at + used] if at + used < len(tokens) else "and"
        if text.endswith(" in") and after not in _AFTER_INCHES:
            continue
        if text in _NOT_ALONE or (text in spoken_numbers.fractions() and text.startswith("a ")):
            continue
        if (found := spoken_numbers.read_amount(text)) is not None:
            return found, used
    return None, 1


_AFTER_INCHES = frozenset(
    {"across", "around", "round", "deep", "wide", "long", "high"}
) | frozenset({"of", "by", "and", "or", "please", "now", "then", "more", "less", "so"})

"""The word after inches that are written short; before any other an "in" is none."""


def _begins(word: str) -> bool:
    return word[0].isdecimal() or word[0] == "." or word in _FIRST_WORDS


_FIRST_WORDS = frozenset(
    text.split()[0] for text in (*spoken_numbers.integers(), *spoken_numbers.fractions())
) | {"point", "a", "an"}
