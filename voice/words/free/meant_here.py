"""Phrases that mean another thing where the session is now."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.session.state import State
from pattern.shape.limits import LIMITS


def meant_here(command: c.Command | None, words: str, state: State) -> c.Command | None:
    """The answer where the tape tells it, and the brim in work where "wide" is told of it."""
    if not isinstance(command, c.Measured) or command.stitches is not None:
        return command
    limit = LIMITS.get(state.question or "")
    if limit is not None and limit.tape and command.kind in {None, Kind.AROUND}:
        return c.Answer(command.amount)
    if state.piece.brim_rounds and command.kind is Kind.ACROSS and re.search(r"\bwide\b", words):
        return c.Measured(command.amount, Kind.BRIM)
    return command
