"""Pieces opened with answers by key, as a journal of any version may hold them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pattern.session import events as e
from pattern.session.folding import Turn, unfolding
from pattern.session.next_offer import offered_after
from pattern.session.state import State
from pattern.shape.rounds import Stage


def opening(state: State, answers: Mapping[str, Any]) -> Turn:
    """The first turn of a new piece: answers given beforehand, and the ring where they suffice.

    Raises: ValueError, naming the key, for an answer outside its limits.
    """
    answered = (e.QuestionAnswered(key, value) for key, value in answers.items())
    turn: Turn = (e.Begun(), *answered)
    if {"head_mm", "yarn", "hook_mm"} <= answers.keys():
        turn = (*turn, e.SetupDone())
    so_far = unfolding(state, *turn)
    return offered_after(so_far).turn if so_far.now.stage is Stage.RING else turn
