"""How the maker is spoken with, and what is noted beside the work."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from pattern.session import events as e
from pattern.session.state import BESIDE_UNDO, CALLED_BESIDE, State


def _undone(state: State, _event: e.Undone) -> State:
    before = state.undo or state
    return replace(
        before, **{name: getattr(state, name) for name in (*BESIDE_UNDO, *CALLED_BESIDE)}
    )


CHANGES: dict[type, Callable[[State, Any], State]] = {
    e.WordingChosen: lambda state, event: replace(state, brief=event.brief),
    e.SpeechChosen: lambda state, event: replace(state, speech=event),
    e.NoteTaken: lambda state, event: replace(state, notes=(*state.notes, event), last=None),
    e.RestsChosen: lambda state, event: replace(state, rest_min=event.every_min),
    e.ClapsChosen: lambda state, _event: state,
    e.SignsChosen: lambda state, event: replace(state, signs=event.signs),
    e.ReminderChosen: lambda state, event: replace(state, remind_s=event.after_s),
    e.Paused: lambda state, _event: replace(state, paused=True),
    e.Resumed: lambda state, _event: replace(state, paused=False),
    e.Left: lambda state, _event: state,
    e.Begun: lambda state, _event: state,
    e.Undone: _undone,
}
