"""Commands about how the session is held: its words, its pauses, its notes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

SLOWEST_WPM, FASTEST_WPM = 120, 220
"""Words a minute that can be followed, and that the voices keep apart; by judgement."""


@dataclass(frozen=True, slots=True)
class Wording:
    """Brief or full wording."""

    brief: bool


class Manner(StrEnum):
    """A change in how sentences are spoken."""

    SLOWER = "slower"
    FASTER = "faster"
    LOUDER = "louder"
    QUIETER = "quieter"
    OTHER_VOICE = "other voice"


@dataclass(frozen=True, slots=True)
class Speak:
    """Speak otherwise from now on."""

    manner: Manner


class Signs(StrEnum):
    """How a short sign is given, such as that words were not caught."""

    SOUNDS = "sounds"
    WORDS = "words"
    BOTH = "both"


@dataclass(frozen=True, slots=True)
class Signal:
    """Give signs that way from now on."""

    signs: Signs


@dataclass(frozen=True, slots=True)
class Rests:
    """How often to be told to rest the hands; 0 for never."""

    every_min: int


@dataclass(frozen=True, slots=True)
class RemindAfter:
    """When to ask once more for a reading that is wanted; 0 for never."""

    after_s: int


@dataclass(frozen=True, slots=True)
class Note:
    """Something to be written up, in the maker's own words."""

    text: str


@dataclass(frozen=True, slots=True)
class Pause:
    """Nothing said counts until resumed."""


@dataclass(frozen=True, slots=True)
class Resume:
    """Go on."""


@dataclass(frozen=True, slots=True)
class Leave:
    """Save and leave; everything is kept already."""
