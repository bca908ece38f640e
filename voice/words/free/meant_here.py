"""Phrases that mean another thing where the session is now."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.session.state import State
from pattern.shape.limits import LIMITS
from pattern.shape.rounds import Stage
from pattern.trade import names
from pattern.trade.lengths import Unit
from voice.words.free.told_lengths import rounded


def meant_here(command: c.Command | None, words: str, state: State) -> c.Command | None:
    """The answer where the tape tells it, and the brim in work where "wide" is told of it."""
    command = head_by_size(command, words, state)
    if state.stage is Stage.SETUP and _is_of_hook(command) and state.question != "hook_mm":
        assert isinstance(command, c.Answer)
        return c.Change("hook_mm", command.amount)
    if not isinstance(command, c.Measured) or command.stitches is not None:
        return command
    limit = LIMITS.get(state.question or "")
    if limit is not None and limit.tape and command.kind in {None, Kind.AROUND}:
        return c.Answer(command.amount)
    if state.piece.brim_rounds and command.kind is Kind.ACROSS and re.search(r"\bwide\b", words):
        return c.Measured(command.amount, Kind.BRIM)
    return command


def _is_of_hook(command: c.Command | None) -> bool:
    """Whether it is a size of hooks: nothing else of a piece is told in so few millimetres."""
    if not isinstance(command, c.Answer) or command.amount.unit is not Unit.MM:
        return False
    hooks = LIMITS["hook_mm"]
    return hooks.least <= command.amount.value <= hooks.most


def head_by_size(command: c.Command | None, words: str, state: State) -> c.Command | None:
    """The head where it is asked for and its size is told by a name that a yarn has, too."""
    if state.question != "head_mm" or not isinstance(command, c.Choose):
        return command
    mm = names.head_size_in(words)
    return command if mm is None else c.Change("head_mm", rounded(mm, 10.0, state.settings.unit))
