"""What comes of a wording, against the phrase of the table that means the same."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from enum import StrEnum
from functools import cache
from typing import Any

from tests.wordings.places import Case, said
from voice.caller.json_reply import as_data
from voice.caller.reply import Reply, Verdict

NO_PHRASE = "-"
"""Stands for a meaning that no phrase of the table has: then any answer counts."""
NOBODY = "none"
"""Stands for what is meant for somebody else."""
_SAME = ("say", "stage", "round", "stitches_after", "asks")
_THERE = ("stage", "round", "stitches_after", "girth_wanted_mm", "girth_expected_mm")
MOVES = ("round", "stage", "stitches_after", "girth_wanted_mm", "girth_sd_mm")
"""Fields of a reply that differ where the piece, or the place in it, does."""


class Outcome(StrEnum):
    """What came of a wording."""

    UNDERSTOOD = "understood"
    """The reply is that to the phrase."""
    ASKED = "asked first"
    """A yes leads to where the phrase leads."""
    OTHER = "other"
    """Something else was answered; nothing is moved."""
    WRONG = "wrong"
    """Something else was moved."""
    WRONG_QUESTION = "wrong question"
    """A yes would lead elsewhere."""
    MISSED = "missed"
    """It was not understood, or refused."""


def judged(case: Case) -> Outcome:
    """What comes of a wording."""
    state, (reply,) = said(case.place, case.said)
    before, after = as_data(Reply("", state)), as_data(reply)
    refused = reply.verdict is Verdict.REFUSED
    if case.phrase == NO_PHRASE:
        return Outcome.MISSED if refused else Outcome.UNDERSTOOD
    meant = _meant(case.place, case.phrase)
    if _alike(after, meant, _SAME):
        return Outcome.UNDERSTOOD
    if after["asks"] == "confirm" != before["asks"]:
        agreed = as_data(said(case.place, case.said, "yes")[1][-1])
        return Outcome.ASKED if _alike(agreed, meant, _THERE) else Outcome.WRONG_QUESTION
    if not _alike(after, before, MOVES):
        return Outcome.WRONG
    return Outcome.MISSED if refused else Outcome.OTHER


def moved(place: str, words: str) -> bool:
    """Whether words moved the piece, or the place in it."""
    state, (reply,) = said(place, words)
    return not _alike(as_data(reply), as_data(Reply("", state)), MOVES)


def tally(cases: Iterable[Case]) -> Counter[Outcome]:
    """How many wordings came to what, of those that are meant for the program."""
    return Counter(judged(case) for case in cases if case.phrase != NOBODY)


@cache
def _meant(place: str, phrase: str) -> dict[str, Any]:
    return as_data(said(place, phrase)[1][-1])


def _alike(one: dict[str, Any], other: dict[str, Any], fields: tuple[str, ...]) -> bool:
    return all(one[field] == other[field] for field in fields)


def meant(case: Case) -> dict[str, Any]:
    """The reply to the phrase that means the same."""
    return _meant(case.place, case.phrase)


def alike(after: dict[str, Any], other: dict[str, Any]) -> bool:
    """Whether two replies say and do the same."""
    return _alike(after, other, _SAME)


def is_there(after: dict[str, Any], other: dict[str, Any]) -> bool:
    """Whether two replies lead to the same place."""
    return _alike(after, other, _THERE)


def is_unmoved(after: dict[str, Any], before: dict[str, Any]) -> bool:
    """Whether nothing was moved."""
    return _alike(after, before, MOVES)
