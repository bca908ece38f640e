"""The result of matching free wording to what it may mean."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.session import commands as c
from pattern.session.folding import Turn


@dataclass(frozen=True, slots=True)
class Match:
    """The result of matching free wording, and the reason."""

    command: c.Command | None
    """The meaning; None if it is not clear."""
    asks: bool = False
    """Whether it is asked about before it is done."""
    near: tuple[str, ...] = ()
    """Nouns of the nearest things that would be understood, where nothing is clear."""
    nearest: c.Command | None = None
    """The one thing that would be understood, where only one is near."""
    reason: str = ""
    """The meaning and its chance, for whoever wonders."""
    chance: float = 0.0
    """Of the command, 0..1 against all else that fits here and that it was said to others."""
    expected: bool = False
    """Whether it answers what is open: a question, a doubt, or a reading that is wanted."""
    nothing: float = 0.0
    """Chance that the words were said to somebody else, whatever fits here; by voice alone."""
    refused: bool = False
    """Whether the session refuses it here: then it is told why, and nothing is done."""
    turn: Turn | None = None
    """The events that it comes to here, where they are known; none for what only tells."""

    @property
    def effect(self) -> Turn | c.Command | None:
        """Its outcome here: alike for commands that do the same."""
        return self.turn or self.command
