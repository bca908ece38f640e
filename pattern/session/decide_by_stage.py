"""Commands whose sense depends on where the session is: setting up, at work, or in a pause."""

from __future__ import annotations

from pattern.session import commands as c
from pattern.session import decide_answers, decide_decorating, decide_work
from pattern.session import events as e
from pattern.session.folding import Decided
from pattern.session.state import State
from pattern.shape.interview import BEGIN
from pattern.shape.rounds import Stage

_ANSWERED_BY = {
    c.Kind.ACROSS: "across_mm",
    c.Kind.AROUND: "head_mm",
    c.Kind.DEPTH: "depth_mm",
    c.Kind.BRIM: "brim_mm",
}
"""Questions of the interview that a length said with its place answers."""


def measured(state: State, command: c.Measured) -> Decided:
    """A reading, or in the interview the answer about that place. Raises: Refused."""
    key = _ANSWERED_BY.get(command.kind) if command.kind is not None else None
    if key is not None and state.stage is Stage.SETUP and key in state.settings.shape.asked:
        return decide_answers.changes(state, c.Change(key, command.amount))
    return decide_work.measured(state, command)


def next_round(state: State, command: c.Next | c.GoOn) -> Decided:
    """The round is done, or where it is asked whether to begin, a yes. Raises: Refused."""
    if state.question == BEGIN:
        return decide_answers.begin(state, c.Begin())
    return decide_work.round_done(state, command)


def back(state: State, command: c.Back) -> Decided:
    """Ends a pause; without one it is a step back. Raises: Refused at the beginning."""
    return (e.Resumed(),) if state.paused else decide_work.back(state, command)


def enough(state: State, command: c.Enough) -> Decided:
    """In the interview the same as begin. Raises: Refused where nothing is to be left."""
    if state.stage is Stage.SETUP:
        return decide_answers.begin(state, c.Begin())
    return decide_decorating.nothing_called(state, command)


def go_on(state: State, command: c.GoOn) -> Decided:
    """Ends a pause; without one it is the same as next. Raises: Refused as next is."""
    return (e.Resumed(),) if state.paused else next_round(state, command)
