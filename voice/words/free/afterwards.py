"""The session after what was said first, for what was said after it in the same breath."""

from __future__ import annotations

from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.refusals import Refused
from pattern.session.state import State


def afterwards(command: c.Command | None, state: State) -> State:
    """The state after a command; the same where it is refused, which is told when it is done."""
    if command is None:
        return state
    try:
        return fold(state, decide(state, command))
    except Refused:
        return state
