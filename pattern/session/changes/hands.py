"""Hands that change: another tension, another maker, days without the piece."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from pattern.gauge.estimate import (
    LEFT_ALONE_CHANGE,
    OTHER_MAKER,
    TENSION_CHANGE,
    TENSION_WIDER,
    Gauge,
)
from pattern.gauge.stitch_change import unsettled
from pattern.session import events as e
from pattern.session.state import State

RECHECK_ROUNDS = 2
"""Rounds by other hands or another hook until the edge shows their own stitches; our choice."""


def rechecked(state: State) -> State:
    """The state in which a reading is wanted when the edge shows the stitches of now."""
    return replace(state, recheck=state.piece.finished + RECHECK_ROUNDS)


def _with_gauge(state: State, gauge: Gauge) -> State:
    """The state; as many readings may be asked for as at first, to learn the stitch anew."""
    return replace(state, piece=replace(state.piece, gauge=gauge), asks_in_all=0)


def _tension(state: State, _event: e.TensionChanged) -> State:
    piece = state.piece
    wider = piece.gauge.widened(TENSION_WIDER**2)
    return _with_gauge(state, unsettled(wider, TENSION_CHANGE, piece.finished))


def _others(state: State, _event: e.MakerChanged) -> State:
    other = _with_gauge(state, unsettled(state.piece.gauge, OTHER_MAKER, state.piece.finished))
    return rechecked(replace(other, piece=replace(other.piece, sides_known=False)))


def _left_alone(state: State, _event: e.LeftAlone) -> State:
    piece = state.piece
    return _with_gauge(state, unsettled(piece.gauge, LEFT_ALONE_CHANGE, piece.finished))


CHANGES: dict[type, Callable[[State, Any], State]] = {
    e.TensionChanged: _tension,
    e.MakerChanged: _others,
    e.LeftAlone: _left_alone,
}
