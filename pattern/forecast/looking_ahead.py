"""The next turns of a session, if every round comes out as called."""

from __future__ import annotations

from dataclasses import replace

from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.events import ReadingWanted
from pattern.session.folding import Turn, fold
from pattern.session.state import State

LOOK_AHEAD = 30
"""Rounds that are looked ahead for the next reading; our choice."""


def turn_after_this_round(state: State) -> Turn:
    """The turn that finishes the offered round. Raises: Refused where none can be finished."""
    return decide(replace(state, doubt=None, paused=False, decorating=None), c.Next())


def rounds_to_next_reading(state: State) -> int | None:
    """Rounds until a reading is asked for, if none is taken before; None for none in sight."""
    for count in range(1, LOOK_AHEAD + 1):
        if state.offered is None:
            return None
        turn = turn_after_this_round(state)
        if any(isinstance(event, ReadingWanted) for event in turn):
            return count
        state = fold(state, turn)
    return None
