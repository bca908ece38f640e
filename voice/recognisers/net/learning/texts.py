"""Texts for synthesisers to say, from the file that `python -m tests.bench.texts` writes."""

from __future__ import annotations

import json
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


@dataclass(eq=False)
class NoTexts(RoundsAloudError):  # noqa: N818 - it reads as what happened
    """There is nothing to be said yet."""

    file: Path

    says = "Write {self.file} first: python -m tests.bench.texts --out {self.file}"


@dataclass(frozen=True, slots=True)
class Texts:
    """Sentences by kind: of the program, the same after attention words, other talk, and what is
    said to the program in free words.
    """

    phrases: list[str]
    addressed: list[str]
    prose: list[str]
    wordings: list[str]


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
