"""Where the turns of a piece go: its journal, or memory for one that is only played through."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Protocol

from pattern.journal.lines import Turn
from pattern.session.events import Event


class Keeping(Protocol):
    """Where the turns of a piece go: its journal, or memory for one that is not kept."""

    @property
    def path(self) -> Path:
        """The file of the piece, there or not; its stem is the name."""

    @property
    def turns(self) -> tuple[Turn[Event], ...]:
        """All turns so far."""

    @property
    def dropped_tail(self) -> bool:
        """Whether the last words were not kept."""

    def append(self, events: Iterable[Event], at_iso: str) -> None:
        """Keep one more turn. Raises: JournalUnwritable."""


class Unkept:
    """A `Keeping` that keeps nothing."""

    dropped_tail = False

    def __init__(self, name: str) -> None:
        """Begin without turns."""
        self.path = Path(name)
        self.turns: tuple[Turn[Event], ...] = ()

    def append(self, events: Iterable[Event], at_iso: str) -> None:
        """Put one turn after the others."""
        self.turns = (*self.turns, Turn(tuple(events), at_iso))
