"""Sizes that trying on settled, and what there is to measure with."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from pattern.plan.trying_on import Means
from pattern.session import events as e
from pattern.session.changes.answers import resized
from pattern.session.state import State


def _means(state: State, event: e.MeansKnown) -> State:
    return replace(state, means=Means(event.tape, event.head), want=None)


CHANGES: dict[type, Callable[[State, Any], State]] = {
    e.SizeFitted: lambda state, event: resized(state, event.key, event.value_mm),
    e.MeansKnown: _means,
    e.OwnWidthKnown: lambda state, event: replace(
        state, own=state.own.told(event.unit, event.width_mm)
    ),
}
