"""The turns of a piece that is only played through: in memory, gone with the process."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from pattern.events import Event
from pattern.lines import Turn


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
