"""Texts for synthesisers to say, from the file that `python -m tests.bench.texts` writes."""

from __future__ import annotations

import json
import re
from dataclasses import asdict, dataclass
from pathlib import Path

from pattern.errors import RoundsAloudError
from voice.words.spoken_numbers import ONES, TEENS, TENS

NAME = "texts.json"
"""Name of the file, in the folder of speech and weights."""
_NUMBERS = frozenset(
    [
        *ONES,
        *TEENS,
        *TENS,
        "zero",
        "hundred",
        "half",
        "quarter",
        "quarters",
        "third",
        "eighth",
        "point",
    ]
)
_TENS = re.compile(rf"\b({'|'.join(TENS)}) ({'|'.join(ONES)})\b")
_ASKS = re.compile(
    "(what|how|where|when|why|who|which|is|are|was|can|could|do|does|did|should|shall|will|would|"
    r"have|has|am)\b",
    re.IGNORECASE,
)


@dataclass(eq=False)
class NoTexts(RoundsAloudError):  # noqa: N818 - it reads as what happened
    """There is nothing to be said yet."""

    file: Path

    says = "Write {self.file} first: python -m tests.bench.texts --out {self.file}"


@dataclass(frozen=True, slots=True)
class Texts:
    """Sentences by kind."""

    phrases: list[str]
    """Of the program."""
    addressed: list[str]
    """The same after attention words."""
    free: list[str]
    """Wordings of makers."""
    prose: list[str]
    """Other talk."""


def write(file: Path, texts: Texts) -> None:
    """Keep texts."""
    file.write_text(json.dumps(asdict(texts), indent=0), encoding="utf-8")


def read(file: Path) -> Texts:
    """Texts as they were kept.

    Raises: NoTexts.
    """
    if not file.is_file():
        raise NoTexts(file)
    return Texts(**json.loads(file.read_text(encoding="utf-8")))


def numbered(words: str) -> bool:
    """Whether a number is among the words."""
    return not _NUMBERS.isdisjoint(words.split())


def as_written(words: str) -> str:
    """The words as the published net writes them: a capital, hyphens in numbers, a mark at the end.

    >>> as_written("forty two across"), as_written("how wide am i")
    ('Forty-two across.', 'How wide am I?')
    """
    text = re.sub(r"\bi\b", "I", _TENS.sub(r"\1-\2", words.strip()))
    mark = "" if text[-1:] in ".?!" else "?" if _ASKS.match(text) and len(text.split()) > 2 else "."
    return text[:1].upper() + text[1:] + mark
