"""A reply as the clauses in which it is rendered, each with the pause before it.

A maker keeps a number until it is worked, so no number runs into the next one, the count stands
apart from the round before it, and a request apart from an instruction. The lengths of the pauses
are by judgement.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from voice.words.spoken_numbers import fractions, integers

BASE_WPM = 160
"""The rate at which the pauses are as long as told here; they shrink and grow with the rate."""
AFTER_NUMBER_S, AFTER_COLON_S, AFTER_SEMICOLON_S = 0.22, 0.22, 0.3
SENTENCE_S, COUNT_S, REQUEST_S = 0.4, 0.5, 0.75
_REQUESTS = frozenset(
    ("answer", "choose", "count", "give", "measure", "or", "say", "skip", "tell", "weigh", "yes")
)
"""Words with which a sentence begins that asks the maker for something."""
_NUMBER = "|".join(
    sorted({w for text in (*integers(), *fractions()) for w in text.split()} - {"a", "an", "and"})
)
_JOINT = re.compile(rf"(?<=[.?!;:])\s+|(?<=,)\s+(?=(?:{_NUMBER})\b)", re.IGNORECASE)
_ENDS_IN_NUMBER = re.compile(rf"\b(?:{_NUMBER}),$", re.IGNORECASE)
_COUNT = re.compile(rf"(?:(?:{_NUMBER}|and)\s)*(?:{_NUMBER})(?: stitch(?:es)?)?\.", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Clause:
    """Words that are rendered at one go."""

    text: str
    pause_s: float
    """Silence before them, at `BASE_WPM`."""


def clauses(text: str) -> Iterator[Clause]:
    """The clauses of a text, in order; none for a text without a word."""
    before = ""
    for part in _parts(text):
        yield Clause(part, _pause_s(before, part) if before else 0.0)
        before = part


def _parts(text: str) -> Iterator[str]:
    """Sentences and what colons and semicolons divide, and at a comma a number from the next."""
    held = ""
    for part in _JOINT.split(text.strip()):
        joined = f"{held} {part}".strip()
        if joined.endswith(",") and not _ENDS_IN_NUMBER.search(joined):
            held = joined
            continue
        held = ""
        if any(map(str.isalnum, joined)):
            yield joined
    if any(map(str.isalnum, held)):
        yield held


def _pause_s(before: str, after: str) -> float:
    match before[-1]:
        case ",":
            return AFTER_NUMBER_S
        case ":":
            return AFTER_COLON_S
        case ";":
            return AFTER_SEMICOLON_S
    if _is_request(before) != _is_request(after):
        return REQUEST_S
    return COUNT_S if _COUNT.fullmatch(after) else SENTENCE_S


def _is_request(clause: str) -> bool:
    """Whether a clause asks the maker for something."""
    first = re.split(r"\W", clause, maxsplit=1)[0].lower()
    return clause.endswith("?") or (first in _REQUESTS and not clause.endswith(":"))
