"""A piece of more rounds than any hat, kept in a journal as a session keeps it."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path

from pattern.journal.journal import Journal
from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.session.decisions import decide
from pattern.session.events import Event
from pattern.session.folding import Turn, fold
from pattern.session.history import CODEC
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from tests.openings import opening

AT = "2026-03-01T18:30:00Z"
WIDEST = {"head_mm": 720.0, "yarn": 0, "hook_mm": 1.0, "depth_mm": 450.0, "brim_mm": 250.0}
"""The hat of the most rounds that the settings allow, some 360; finer cloth than they foresee, as
`finer` reads it, makes it more than a thousand."""


class Session:
    """A piece being made: what is decided is kept, and then counts."""

    def __init__(self, folder: Path, name: str) -> None:
        """Opens a new piece."""
        self.state = State()
        self.planning_s: list[float] = []
        """Seconds of each command besides those on the disk, which vary most."""
        self.journal: Journal[Event] = Journal.open(folder, name, CODEC)
        self._keep(opening(self.state, WIDEST))

    def do(self, command: c.Command) -> float:
        """Carries out one command; the seconds that it took until it was on the disk and told."""
        start = time.perf_counter()
        on_disk_s = self._keep(decide(self.state, command))
        taken_s = time.perf_counter() - start
        self.planning_s.append(taken_s - on_disk_s)
        return taken_s

    def _keep(self, turn: Turn) -> float:
        if not turn:
            return 0.0
        start = time.perf_counter()
        self.journal.append(turn, AT)
        on_disk_s = time.perf_counter() - start
        self.state = fold(self.state, turn)
        return on_disk_s

    def to_round(self, rounds: int) -> None:
        """Works on until so many rounds are finished."""
        while self.state.piece.finished < rounds:
            self.do(c.Skip() if self.state.want is not None else c.Next())
            if self.state.stage is Stage.FINISHING:
                raise ValueError(f"the piece ended after {self.state.piece.finished} rounds")

    def around(self) -> Iterator[c.Command]:
        """A round worked, read, counted, taken back and worked again, over and over; the piece
        stays as long as it is.
        """
        while True:
            while self.state.want is not None:
                yield c.Skip()
            yield c.Next()
            piece = self.state.piece
            yield c.Counted(piece.stitches)
            girth_mm = piece.stitches * piece.gauge.width_mm
            yield c.Measured(Amount(girth_mm, 1.0, Unit.MM), Kind.AROUND)
            yield c.Undo()
            yield c.Ask(c.Asked.WHERE)
            yield c.Back()


def finer(session: Session) -> None:
    """Rounds lower than any hook makes: the tape says so, and the maker insists."""
    session.to_round(4)
    while session.state.piece.gauge.height_mm > 0.6:
        piece = session.state.piece
        across_mm = 2 * (piece.gauge.ring_mm + piece.finished * piece.gauge.height_mm) / 2
        session.do(c.Measured(Amount(across_mm, 1.0, Unit.MM), Kind.ACROSS))
        if session.state.doubt is not None:
            session.do(c.Yes())
