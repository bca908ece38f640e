"""How events change the state of a piece; state is only ever the fold of events."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import reduce
from typing import Any

from pattern.session import events as e
from pattern.session.changes import answers, hands, manner, readings, work
from pattern.session.state import State

QUIET = (
    e.WordingChosen,
    e.SpeechChosen,
    e.Paused,
    e.Resumed,
    e.Left,
    e.RestsChosen,
    e.LeftAlone,
    e.SignsChosen,
    e.ReminderChosen,
    e.ClapsChosen,
)
"""Events that the maker did not mean to change the piece by: undo passes over them."""
CHANGES: dict[type, Callable[[State, Any], State]] = {
    kind: change
    for theme in (answers, work, readings, hands, manner)
    for kind, change in theme.CHANGES.items()
}
"""What each kind of event does to the state."""


def fold(state: State, turn: Iterable[e.Event]) -> State:
    """The state after one turn of events; undo later takes back the turn as a whole.

    A turn that mends the one before it ("no, forty") begins by undoing it, and stands in its place.
    """
    turn = tuple(turn)
    quiet = all(isinstance(event, QUIET) for event in turn)
    if quiet or turn == (e.Undone(),) or isinstance(turn[0], e.Begun):
        return reduce(evolve, turn, state)
    after = reduce(evolve, turn, replace(state, last=None))
    return replace(after, undo=evolve(state, turn[0]) if turn[0] == e.Undone() else state)


def evolve(state: State, event: e.Event) -> State:
    """The state after one event."""
    return CHANGES[type(event)](state, event)
