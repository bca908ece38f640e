"""How events change the state of a piece; state is only ever the fold of events."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Any

from pattern.session import events as e
from pattern.session.changes import answers, decorating, fitting, hands, manner, readings, work
from pattern.session.state import State

Turn = tuple[e.Event, ...]
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
    e.OwnWidthKnown,
    e.DecorationCalled,
    e.DecorationEnded,
)
"""Events that the maker did not mean to change the piece by: undo passes over them."""
CHANGES: dict[type, Callable[[State, Any], State]] = {
    kind: change
    for theme in (answers, work, readings, fitting, decorating, hands, manner)
    for kind, change in theme.CHANGES.items()
}
"""The change that each kind of event makes to the state."""


@dataclass(frozen=True, slots=True)
class Unfolding:
    """A turn as it is decided: its events so far, each folded once, and the states between them."""

    states: tuple[State, ...]
    """The state before the turn, and the one after each of its events."""
    turn: Turn = ()

    @property
    def before(self) -> State:
        """The state before the turn."""
        return self.states[0]

    @property
    def now(self) -> State:
        """The state after the events so far, in the middle of the turn."""
        return self.states[-1]

    @property
    def after(self) -> State:
        """The state when the turn ends here; undo later takes back the turn as a whole.

        A turn that mends the one before it ("no, forty") begins by undoing it, and stands in its
        place.
        """
        if not _counts(self.turn):
            return self.now
        return replace(self.now, undo=self.states[1 if self.turn[0] == e.Undone() else 0])

    def then(self, *events: e.Event) -> Unfolding:
        """The same turn with more events."""
        states, turn = list(self.states), self.turn
        for event in events:
            turn = (*turn, event)
            mends = turn[0] == e.Undone() and self.before.undo is not None
            begins = _counts(turn) and not _counts(turn[:-1])
            now = states[-1]
            if begins and not mends and now.last is not None:
                now = replace(now, last=None)
            states.append(evolve(now, event))
        return Unfolding(tuple(states), turn)


Decided = Turn | Unfolding
"""A turn, with what it leads to where that had to be looked at to decide it."""


def _counts(turn: Turn) -> bool:
    """Whether undo can take back the turn, and nothing that was said before it can be mended."""
    quiet = all(isinstance(event, QUIET) for event in turn)
    return not (quiet or turn == (e.Undone(),) or isinstance(turn[0], e.Begun))


def unfolding(state: State, *events: e.Event) -> Unfolding:
    """A turn that begins in a state, with the first of its events."""
    return Unfolding((state,)).then(*events)


def fold(state: State, turn: Iterable[e.Event]) -> State:
    """The state after one turn of events, see Unfolding.after."""
    return unfolding(state, *turn).after


def evolve(state: State, event: e.Event) -> State:
    """The state after one event."""
    return CHANGES[type(event)](state, event)
