"""Words and numbers that came back from somebody who only heard a sentence.

Counted are numbers and the words of the work, each in its place among the others. A number is one
value, in figures or in words, with its fraction; words that sound alike are told apart where they
are numbers ("to" is not two), since a maker may take the one for the other as well.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from num2words import num2words  # type: ignore[import-untyped]

_UNITS = [num2words(n) for n in range(20)]
_TENS = [num2words(n) for n in range(20, 100, 10)]
_VALUES = {word: n for n, word in enumerate(_UNITS)} | {
    word: 10 * n for n, word in enumerate(_TENS, start=2)
}
_PARTS = {"half": 0.5, "quarter": 0.25, "eighth": 0.125}
_FIGURES = {
    "½": " 1/2",
    "¼": " 1/4",
    "¾": " 3/4",
    "⅛": " 1/8",
    "⅜": " 3/8",
    "⅝": " 5/8",
    "⅞": " 7/8",
}
STITCH_WORDS = frozenset(
    (
        "stitch",
        "round",
        "next",
        "each",
        "every",
        "single",
        "double",
        "treble",
        "crochet",
        "chain",
        "slip",
        "plain",
        "together",
        "times",
        "last",
        "first",
        "marker",
        "ring",
        "join",
        "increase",
        "decrease",
        "hook",
        "loop",
        "brim",
        "crown",
        "sides",
        "edge",
        "across",
        "deep",
        "around",
        "sets",
        "measure",
        "count",
    )
)
_SPELLED = {"plane": "plain", "stitches": "stitch", "rounds": "round", "hooks": "hook"} | {
    "increases": "increase",
    "decreases": "decrease",
    "side": "sides",
    "joined": "join",
}
_TOKEN = re.compile(r"\d+/\d+|\d+(?:\.\d+)?|[a-z']+|[.,;:?!]")

Token = float | str
"""A value, or a word of the work."""


@dataclass(frozen=True, slots=True)
class Back:
    """How much of a sentence came back."""

    numbers: int
    numbers_right: int
    words: int
    words_right: int
    lost: tuple[Token, ...]

    def __add__(self, other: Back) -> Back:
        """Both together."""
        return Back(
            self.numbers + other.numbers,
            self.numbers_right + other.numbers_right,
            self.words + other.words,
            self.words_right + other.words_right,
            self.lost + other.lost,
        )


NOTHING = Back(0, 0, 0, 0, ())


def came_back(said: str, written: Sequence[str]) -> Back:
    """Each number and word of the work is right when one of those who wrote has it in its place."""
    wanted = tokens(said)
    right = set[int]().union(*(_in_place(wanted, tokens(text)) for text in written))
    numbers = {n for n, token in enumerate(wanted) if isinstance(token, float)}
    words = set(range(len(wanted))) - numbers
    lost = tuple(token for n, token in enumerate(wanted) if n not in right)
    return Back(len(numbers), len(numbers & right), len(words), len(words & right), lost)


def tokens(text: str) -> list[Token]:
    """The values and the words of the work in a text, in order."""
    for sign, figures in _FIGURES.items():
        text = text.replace(sign, figures)
    text = re.sub(r"(\d),(\d{3})\b", r"\1\2", text.lower().replace("%", " percent"))
    words = _TOKEN.findall(re.sub(r"(?<=[a-z])-(?=[a-z])", " ", text))
    found, at = list[Token](), 0
    while at < len(words):
        value, used = _value(words[at:])
        if used:
            found.append(value)
        elif (word := _SPELLED.get(words[at], words[at])) in STITCH_WORDS:
            found.append(word)
        at += used or 1
    return found


def _value(words: Sequence[str]) -> tuple[float, int]:
    """The number that the words begin with, and how many of them it takes; 0 words for none."""
    whole, used = _whole(words)
    if not used:
        return _part(words)
    rest = words[used:]
    if rest[:1] == ["point"] and (digits := [w for w in rest[1:3] if w in _UNITS[:10]]):
        return whole + float("0." + "".join(str(_VALUES[d]) for d in digits)), used + 1 + len(
            digits
        )
    joined = 1 if rest[:1] == ["and"] else 0
    part, more = _part(rest[joined:])
    if more and (joined or rest[0][0].isdigit()):
        return whole + part, used + joined + more
    return whole, used


def _whole(words: Sequence[str]) -> tuple[float, int]:
    if not words or "/" in words[0]:
        return 0.0, 0
    if words[0][0].isdigit():
        return float(words[0]), 1
    if words[0] not in _VALUES or _part(words)[1]:
        return 0.0, 0
    value, used = float(_VALUES[words[0]]), 1
    if value >= 20 and words[1:2] and 0 < _VALUES.get(words[1], 0) < 10:
        value, used = value + _VALUES[words[1]], 2
    if value < 10 and words[1:2] == ["hundred"]:
        joined = 3 if words[2:3] == ["and"] else 2
        more, also = _whole(words[joined:])
        return (100 * value + more, joined + also) if also else (100 * value, 2)
    return value, used


def _part(words: Sequence[str]) -> tuple[float, int]:
    """A fraction: a half, three quarters, 3/8."""
    if not words:
        return 0.0, 0
    if "/" in words[0]:
        above, _, under = words[0].partition("/")
        return (int(above) / int(under), 1) if int(under) else (0.0, 0)
    if words[0] in _PARTS:
        return _PARTS[words[0]], 1
    times = 1 if words[0] in ("a", "an") else _VALUES.get(words[0], 0)
    if times and words[1:2] and (part := _PARTS.get(words[1].removesuffix("s"))):
        return times * part, 2
    return 0.0, 0


def _in_place(wanted: Sequence[Token], found: Sequence[Token]) -> set[int]:
    """Places of those wanted in a longest common sequence of both."""
    longest = [[0] * (len(found) + 1) for _ in range(len(wanted) + 1)]
    for i in reversed(range(len(wanted))):
        for j in reversed(range(len(found))):
            longest[i][j] = (
                longest[i + 1][j + 1] + 1
                if wanted[i] == found[j]
                else max(longest[i + 1][j], longest[i][j + 1])
            )
    right, i, j = set[int](), 0, 0
    while i < len(wanted) and j < len(found):
        if wanted[i] == found[j]:
            right.add(i)
            i, j = i + 1, j + 1
        elif longest[i + 1][j] >= longest[i][j + 1]:
            i += 1
        else:
            j += 1
    return right
