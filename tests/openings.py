"""Pieces opened with answers by key, as a journal of any version may hold them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pattern import events as e
from pattern.offering import Turn, offered_after
from pattern.session import fold
from pattern.shape.rounds import Stage
from pattern.state import State


def opening(state: State, answers: Mapping[str, Any]) -> Turn:
    """The first turn of a new piece: answers given beforehand, and the ring where they suffice.

    Raises: ValueError, naming the key, for an answer outside its limits.
    """
    answered = (e.QuestionAnswered(key, value) for key, value in answers.items())
    turn: Turn = (e.Begun(), *answered)
    if {"head_mm", "yarn", "hook_mm"} <= answers.keys():
        turn = (*turn, e.SetupDone())
    return offered_after(state, turn) if fold(state, turn).stage is Stage.RING else turn
