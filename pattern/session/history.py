"""The contents of a piece's journal, and the state that they add up to."""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce
from pathlib import Path
from typing import get_args

from pattern.errors import RoundsAloudError
from pattern.gauge.estimate import Gauge
from pattern.journal.journal_errors import JournalDamaged
from pattern.journal.lines import Turn
from pattern.journal.records import Codec, Record
from pattern.plan.readings import Reading
from pattern.session.events import Event
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.shape.rounds import Round

VERSION = 7
"""2 only has more kinds of events than 1, so that a program of before says that it is too old.
3 says of each round which part of the shape it belongs to. 4 knows other heads, and
the unit that was said with a doubted reading. 5 only has one more kind of event.
6 knows trying on, and the word that a reading was. 7 only has two more kinds of events."""
_PART_OF = {"ring": 0, "crown": 0, "sides": 1, "brim": 2}
"""Before version 3 there were only hats with crown, sides and brim."""


def _with_unit(record: Record) -> Record:
    """A record of version 3 as one of version 4: the unit was the maker's own already."""
    return {**record, "unit": None} if record.get("type") == "ReadingDoubted" else record


def _with_part(record: Record) -> Record:
    """A record of version 2 as one of version 3."""
    offered = record.get("round")
    if isinstance(offered, dict) and offered.get("type") == "Round":
        return {**record, "round": {**offered, "part": _PART_OF[offered["stage"]]}}
    return record


def _with_word(record: Record) -> Record:
    """A record of version 5 as one of version 6: every reading was of the tape."""
    reading = record.get("reading")
    if isinstance(reading, dict) and reading.get("type") == "Reading":
        return {**record, "reading": {**reading, "fit": None}}
    return record


CODEC: Codec[Event] = Codec(
    get_args(Event),
    VERSION,
    upcasts={
        1: lambda record: record,
        2: _with_part,
        3: _with_unit,
        4: lambda record: record,
        5: _with_word,
        6: lambda record: record,
    },
    parts=(Round, Reading, Gauge),
)
"""Every event as a record of a journal, and back."""


def state_after(turns: Iterable[Turn[Event]]) -> State:
    """The state of a piece after all its turns, from the first."""
    return reduce(lambda state, turn: fold(state, turn.events), turns, State())


_UNFIT = (ValueError, TypeError, LookupError, ArithmeticError, AttributeError, RoundsAloudError)


def state_read(path: Path, turns: Iterable[Turn[Event]]) -> State:
    """The state of a piece after all turns of its file, that others may have written.

    Raises: JournalDamaged for a line whose events cannot follow those before.
    """
    state = State()
    for n, turn in enumerate(turns, 1):
        try:
            state = fold(state, turn.events)
        except _UNFIT as fault:
            raise JournalDamaged(path, n, "it does not fit the lines before it") from fault
    return state
