"""Commands that only ask to be told something."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Asked(StrEnum):
    """Things to be told; nothing changes by asking."""

    AGAIN = "again"
    WHERE = "where"
    HOW_MANY = "how many"
    STITCHES = "stitches"
    ROUNDS = "rounds"
    READING = "reading"
    WHAT_NEXT = "what next"
    YARN = "yarn"
    ENOUGH = "enough"
    TIME_LEFT = "time left"
    CROWN_TIME = "crown time"
    HOOK = "hook"


@dataclass(frozen=True, slots=True)
class Ask:
    """Tell me something."""

    what: Asked


@dataclass(frozen=True, slots=True)
class Help:
    """What can I say, or how do I do something."""

    topic: str = ""
