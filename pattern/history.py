"""What the journal of a piece holds, and the state that it adds up to."""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce
from typing import get_args

from pattern.events import Event
from pattern.gauge import Gauge
from pattern.lines import Turn
from pattern.readings import Reading
from pattern.records import Codec
from pattern.rounds import Round
from pattern.session import State, fold

VERSION = 3
"""Each only has more kinds of events than the one before, so that an older program says that it is
too old."""
CODEC: Codec[Event] = Codec(
    get_args(Event),
    VERSION,
    upcasts=dict.fromkeys(range(1, VERSION), lambda record: record),
    parts=(Round, Reading, Gauge),
)
"""Every event as a record of a journal, and back."""


def state_after(turns: Iterable[Turn[Event]]) -> State:
    """The state of a piece after all its turns, from the first."""
    return reduce(lambda state, turn: fold(state, turn.events), turns, State())
