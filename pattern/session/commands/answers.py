"""Commands that answer a question, or change an answer."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.shape.settings import Answered
from pattern.trade.head_medians import Sex
from pattern.trade.lengths import Amount


@dataclass(frozen=True, slots=True)
class Answer:
    """A bare number or length: it answers what was asked."""

    amount: Amount


@dataclass(frozen=True, slots=True)
class Choose:
    """A word that answers a question of the interview, or changes the answer later."""

    key: str
    value: Answered


@dataclass(frozen=True, slots=True)
class Change:
    """A number of the interview is to be another."""

    key: str
    amount: Amount


@dataclass(frozen=True, slots=True)
class Adjust:
    """Depth or brim width is to be more or less by a length."""

    key: str
    amount: Amount
    less: bool = False


@dataclass(frozen=True, slots=True)
class HeadOf:
    """A head that is not measured: by age and sex; an adult where no age is given."""

    age_years: float | None = None
    sex: Sex | None = None


@dataclass(frozen=True, slots=True)
class AlsoFor:
    """The pattern is to be written for another head, too."""

    amount: Amount


@dataclass(frozen=True, slots=True)
class OneSize:
    """The pattern is to be written for the head of this piece only."""


@dataclass(frozen=True, slots=True)
class EveryQuestion:
    """Ask all questions of the interview, the usual answers too."""


@dataclass(frozen=True, slots=True)
class Begin:
    """Take the defaults for what was not asked yet."""


@dataclass(frozen=True, slots=True)
class Yes:
    """Confirm what is in doubt."""


@dataclass(frozen=True, slots=True)
class No:
    """Not so; with an amount, the right one."""

    amount: Amount | None = None


@dataclass(frozen=True, slots=True)
class Skip:
    """Leave the question unanswered."""
