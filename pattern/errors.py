"""Errors that the program raises on purpose; each one reads as a sentence that says what to do."""

# ruff: noqa: N818  (a name says what happened, as in NoSuchPiece)

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar


class RoundsAloudError(Exception):
    """Anything this program refuses on purpose; reads as one sentence for a person."""

    says: ClassVar[str] = ""
    """The sentence, with the fields in it as {self.path}; where it is empty, what was given."""

    def __str__(self) -> str:
        """The sentence with what the fields hold."""
        return self.says.format(self=self) if self.says else super().__str__()


@dataclass(eq=False)
class BadRecord(RoundsAloudError):
    """A record that is no known event, or an event that cannot be kept as a record."""

    why: str

    says = "A record does not fit ({self.why}); nothing was written: report this mistake."


@dataclass(eq=False)
class NothingLearned(RoundsAloudError):
    """A piece that was never measured has no gauge to begin another with."""

    name: str

    says = (
        "{self.name} was never measured, so it has no gauge to take over; "
        "choose a piece that was, or begin without --like."
    )


@dataclass(eq=False)
class BadShape(RoundsAloudError, ValueError):
    """A shape as its writer described it cannot be worked, or is not understood."""

    line: int
    """Counted from 1."""
    key: str
    """The key that is meant; empty where it is the whole part or text."""
    why: str
    """Advice on what to write instead."""

    says = "The shape cannot be used: line {self.line}{self.named}: {self.why}."

    @property
    def named(self) -> str:
        """The key as the sentence names it."""
        return f", {self.key[:60]}" if self.key else ""


@dataclass(eq=False)
class NeverEnds(RoundsAloudError):
    """A plan took more rounds than its sizes can need."""

    rounds: int

    says = (
        "The plan has no end by round {self.rounds}, which is a mistake of this program: report "
        "it, and choose another size or shape meanwhile."
    )
