"""The decoration that is called, and those that were asked for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from pattern.session import events as e
from pattern.session.state import State
from pattern.trade.decorations import STEPS


def _called(state: State, event: e.DecorationCalled) -> State:
    if not 0 <= event.step < len(STEPS[event.what]):
        raise ValueError("no such step")
    decorated = dict.fromkeys((*state.decorated, event.what))
    return replace(state, decorating=event, decorated=tuple(decorated))


CHANGES: dict[type, Callable[[State, Any], State]] = {
    e.DecorationCalled: _called,
    e.DecorationEnded: lambda state, _event: replace(state, decorating=None),
}
"""Events of decorating."""
