"""Events of how the session is held: its words, its pauses, its notes."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.session.commands import Signs


@dataclass(frozen=True, slots=True)
class NoteTaken:
    """The maker's words, and the round they were said at; 0 before the first."""

    text: str
    round: int


@dataclass(frozen=True, slots=True)
class WordingChosen:
    """Brief or full wording from now on."""

    brief: bool


@dataclass(frozen=True, slots=True)
class SpeechChosen:
    """How sentences are spoken from now on."""

    rate_wpm: int
    volume: float
    """0 to 1."""
    voice: int
    """Which of the voices that there are, counted round."""


@dataclass(frozen=True, slots=True)
class RestsChosen:
    """A hint to rest the hands after so many minutes of work from now on; 0 for none."""

    every_min: int


@dataclass(frozen=True, slots=True)
class SignsChosen:
    """Short signs are given as sounds, in words or both from now on."""

    signs: Signs


@dataclass(frozen=True, slots=True)
class ReminderChosen:
    """A reading wanted is asked for once more after so many seconds of silence; 0 for never."""

    after_s: int


@dataclass(frozen=True, slots=True)
class ClapsChosen:
    """Kept in journals of earlier versions, which took claps for words; it changes nothing now."""

    on: bool


@dataclass(frozen=True, slots=True)
class Paused:
    """Nothing said counts until resumed."""


@dataclass(frozen=True, slots=True)
class Resumed:
    """The session listens again after a pause."""


@dataclass(frozen=True, slots=True)
class Left:
    """The maker put the piece away."""
