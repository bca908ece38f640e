"""Commands that only ask to be told something."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from pattern.trade.head_medians import Sex
from pattern.trade.techniques import Technique


class Asked(StrEnum):
    """Things to be told; nothing changes by asking."""

    AGAIN = "again"
    MORE = "more"
    """The rest of an answer that was too long for one breath."""
    PLAN = "plan"
    WHERE = "where"
    HOW_MANY = "how many"
    STITCHES = "stitches"
    ROUNDS = "rounds"
    PART_ROUNDS = "part rounds"
    """The rounds left of the part in work."""
    READING = "reading"
    WHAT_NEXT = "what next"
    YARN = "yarn"
    YARN_USED = "yarn used"
    """The yarn in what is worked."""
    ENOUGH = "enough"
    TIME_LEFT = "time left"
    CROWN_TIME = "crown time"
    HOOK = "hook"
    FINISHING = "finishing"
    WASHING = "washing"
    BAND = "band"
    EDGING = "edging"
    SHADE = "shade"
    GAUGE = "gauge"
    """The maker's stitches and rounds, as they are believed."""
    SIZE_NOW = "size now"
    """How wide or deep it should be by now."""
    DEEP_ENOUGH = "deep enough"
    WIDE_ENOUGH = "wide enough"
    PART_ENOUGH = "part enough"
    """Whether the part in work is big enough, whatever that is measured by."""
    SIZES = "sizes"
    HEADS = "heads"
    CHANGES = "changes"
    """The answers that may still change, and how to change one."""
    PAIN = "pain"
    """The maker's hands hurt."""
    TOLD = "told"
    """The reading, count or answer that was taken last."""


@dataclass(frozen=True, slots=True)
class Ask:
    """Tell me something."""

    what: Asked


@dataclass(frozen=True, slots=True)
class HeadSize:
    """How big is a head of that age; a grown one where no age is given."""

    age_years: float | None = None
    sex: Sex | None = None


@dataclass(frozen=True, slots=True)
class Help:
    """A question for help: "what can I say", or how to do something."""

    topic: str = ""


@dataclass(frozen=True, slots=True)
class Explain:
    """Explain how a thing is done."""

    technique: Technique
