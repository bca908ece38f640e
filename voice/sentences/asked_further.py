"""Asks for what a free wording lacks: a number, the terms of a stitch, or all of its sense."""

from __future__ import annotations

from collections.abc import Sequence

from pattern.session import commands as c
from voice.sentences.amounts import capital
from voice.words.free.wanted import Number, Wanted

_NUMBERS: dict[Number, str] = {
    Number.BABY_AGE: "How old is the baby, in months?",
    Number.CHILD_AGE: "How old is the child?",
    Number.HEAD: "Lay the tape around, above the ears: how big is it? "
    "Or say small, medium or large.",
    Number.BETWEEN: "How many plain stitches do you see between two increases? "
    "Or count all around, and say, sixty all around.",
    Number.SO_FAR: "How many stitches are there from the marker to the hook?",
    Number.HOOK: "What size is the hook, in millimetres or by its letter?",
    Number.ROUND: "How many stitches has the last whole round, from the marker?",
}


def number(wanted: Wanted) -> str:
    """The question for a number that is missing, or that mends a mishap."""
    return _NUMBERS[wanted.number]


def nearest(nouns: Sequence[str], *, only: bool = False) -> str:
    """Tell what would be understood instead, not only that the words were not understood.

    Of one thing `only` a yes does it.
    """
    if not nouns:
        return "I did not get that. Say help to hear what you can say."
    if only:
        return f"I did not get that. I can {nouns[0]}: shall I?"
    if len(nouns) == 1:
        return f"I did not get that. I can {nouns[0]}, if that is meant."
    return f"I did not get that. I can {' or '.join(nouns)}: say which."


def which_terms(stitch: c.Choose) -> str:
    """The question whose terms a stitch is named in."""
    return f"{capital(str(stitch.value).removesuffix(' crochet'))} crochet in US or UK terms?"
