"""Phrases with their slots filled as a maker might, with numbers that make sense in them."""

from __future__ import annotations

import re

from pattern.trade.lengths import Unit
from voice.words.grammar import Word, parse, sentences

_LENGTHS: tuple[tuple[str, str, str], ...] = (
    ("also write", "twenty one", "fifty four"),
    ("hook", "five millimetre", "five millimetre"),
    ("stitches|sts", "four", "ten"),
    ("rounds|rows", "five", "twelve"),
    ("around|all round", "twenty two", "fifty six"),
    ("corner", "six and a half", "seventeen"),
    ("across|measured", "six and a half", "sixteen and a half"),
    ("wider|narrower|deeper|shallower|smaller|tighter|bigger|looser|ease", "half an inch", "one"),
    ("depth|deep", "seven and three quarters", "twenty"),
    ("brim", "two and a half", "six"),
    ("head", "twenty two", "fifty six"),
    ("height|high", "four", "ten"),
    ("", "eight", "twenty"),
)
"""Words of a phrase, and the length said with them in inches and in centimetres; the first row that
fits counts."""
_NUMBERS: tuple[tuple[str, str], ...] = (
    ("swatch", "twenty"),
    ("stitches (?:in|are|measure) <length>", "ten"),
    ("in this round|after <few>", "thirty"),
    ("between", "five"),
    ("count|counted|round has|<integer> stitches", "forty eight"),
    ("class|yarn", "three"),
    ("slope|degrees", "thirty"),
    ("start", "eight"),
    ("months", "nine"),
    ("ask again|remind me after", "three"),
    ("seconds", "ninety"),
    ("minutes", "twenty"),
    ("ripped|pulled|took out", "two"),
    ("sets|set|repeats", "three"),
    ("", "six"),
)
"""The same for whole numbers."""
_FIXED = {
    "few": "three",
    "number": "three",
    "weight": "fifty grams",
    "grams": "two hundred grams",
    "ball_length": "one hundred metres",
    "topic": "measuring",
    "note_words": "joined second ball here",
}
"""The same for slots whose phrases are alike."""


def example(form: str, unit: Unit = Unit.CM) -> str:
    """A form with its slots filled; lengths are in the unit, which is not said."""
    column = 1 if unit is Unit.INCH else 2
    length = next(row[column] for row in _LENGTHS if re.search(row[0], form))
    number = next(row[1] for row in _NUMBERS if re.search(row[0], form))
    filled = {"length": length, "integer": number, **_FIXED}
    words = {name: Word(said) for name, said in filled.items()}
    return " ".join(next(sentences(parse(form), words)))
