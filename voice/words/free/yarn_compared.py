"""Yarn told by another, as "a bit thinner than aran". Words: common usage, no source.

In the shops of one country a class has one usual name, so "thinner than" a name is the class below.
"""

from __future__ import annotations

import re

from pattern.trade import names
from pattern.trade.yarns_and_hooks import YARNS

_FINER = r"(?:thinner|finer|lighter|slimmer|skinnier)"
_THICKER = r"(?:thicker|heavier|fatter|chunkier|bulkier|beefier)"
_NOT_SO = r"(?:not|is not|nothing like|less) (?:quite |nearly |really )?(?:as |so )?"
_THICK, _FINE = r"(?:thick|heavy|fat|chunky|bulky)", r"(?:thin|fine|light)"
_BELOW = (
    rf"\b{_FINER} than (?P<name>.+)",
    rf"\b{_NOT_SO}{_THICK} as (?P<name>.+)",
    r"\b(?:one|a|the next)?(?: size| class| weight| step| one)? ?(?:below|down from) (?P<name>.+)",
    rf"\bnot (?P<name>.+?) (?:but |it is |the )*(?:{_FINER}|next (?:one |size )?down)\b",
    rf"\blike (?P<name>.+?) (?:but|only|just) (?:a (?:bit|little|touch|shade) )?{_FINER}",
)
_ABOVE = (
    rf"\b{_THICKER} than (?P<name>.+)",
    rf"\b{_NOT_SO}{_FINE} as (?P<name>.+)",
    r"\b(?:one|a|the next)?(?: size| class| weight| step| one)? ?(?:above|up from) (?P<name>.+)",
    rf"\bnot (?P<name>.+?) (?:but |it is |the )*(?:{_THICKER}|next (?:one |size )?up)\b",
    rf"\blike (?P<name>.+?) (?:but|only|just) (?:a (?:bit|little|touch|shade) )?{_THICKER}",
)
_BETWEEN = r"\bbetween (?P<least>.+?) and (?P<most>.+)"
_BOTH = r" (?:but|and|yet) (?:it is |also )?"


def compares_yarn(words: str) -> bool:
    """Whether plain words tell a yarn by others."""
    return re.search(_BETWEEN, words) is not None or _one_sided(words) != (None, None)


def yarn_compared(words: str) -> int | None:
    """The class of yarn that plain words tell by others; None where several may be meant."""
    if found := re.search(_BETWEEN, words):
        least, most = names.yarn_in(found["least"]), names.yarn_in(found["most"])
        return None if least is None or most is None else _only_between(least, most)
    above, below = _one_sided(words)
    if above is not None and below is not None:
        return _only_between(above, below)
    if above is not None:
        return min(above + 1, len(YARNS) - 1)
    return None if below is None else max(below - 1, 0)


def _only_between(one: int, other: int) -> int | None:
    return (one + other) // 2 if abs(one - other) == 2 else None


def _one_sided(words: str) -> tuple[int | None, int | None]:
    """The classes that it is thicker than, and thinner than."""
    above = below = None
    for part in re.split(_BOTH, words) if re.search(_BOTH, words) else [words]:
        above = _named(_ABOVE, part) if above is None else above
        below = _named(_BELOW, part) if below is None else below
    if above is None and below is None:
        return _named(_ABOVE, words), _named(_BELOW, words)
    return above, below


def _named(patterns: tuple[str, ...], words: str) -> int | None:
    for pattern in patterns:
        if (found := re.search(pattern, words)) is not None:
            return names.yarn_in(found["name"])
    return None
