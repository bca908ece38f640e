"""Events of the beginning: what is wanted, and what is known before the first stitch."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.shape.settings import Answered


@dataclass(frozen=True, slots=True)
class Begun:
    """A new piece; what was answered beforehand follows, and is not taken back by undo."""


@dataclass(frozen=True, slots=True)
class SizesChosen:
    """Other heads that the pattern is to be written for, the smallest first."""

    heads_mm: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class QuestionAnswered:
    """A setting got a value; in the interview its question is closed."""

    key: str
    value: Answered


@dataclass(frozen=True, slots=True)
class QuestionSkipped:
    """A question of the interview was left at its default."""

    key: str


@dataclass(frozen=True, slots=True)
class QuestionReopened:
    """The last question is asked again."""


@dataclass(frozen=True, slots=True)
class SetupDone:
    """The interview is over."""
