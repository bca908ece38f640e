"""What the journal of a piece holds, and the state that it adds up to."""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce
from typing import get_args

from pattern.events import Event
from pattern.lines import Turn
from pattern.readings import Reading
from pattern.records import Codec
from pattern.rounds import Round
from pattern.session import State, fold

CODEC: Codec[Event] = Codec(get_args(Event), parts=(Round, Reading))
"""Every event as a record of a journal, and back."""


def state_after(turns: Iterable[Turn[Event]]) -> State:
    """The state of a piece after all its turns, from the first."""
    return reduce(lambda state, turn: fold(state, turn.events), turns, State())
