"""Readings of the tape, counts, looks and weighings, and doubts of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from pattern.gauge.miscount import Miscount, counted
from pattern.gauge.yarn_use import Weighing
from pattern.plan.learning import learn
from pattern.plan.looks import learn_look
from pattern.plan.readings import Want
from pattern.session import events as e
from pattern.session.changes.count_asked import count_judged
from pattern.session.commands import Kind
from pattern.session.state import WEIGHT, Doubt, State, Taken

_EDGE = frozenset({Kind.AROUND, Kind.ALONG, Kind.FIT})
"""Readings that tell the stitches of the edge."""


def _wanted(state: State, event: e.ReadingWanted) -> State:
    want = Want(event.kind, event.stitches)
    asked = replace(state, want=want, recheck=_still(state, event.kind))
    if event.kind is Kind.LOOK:
        return replace(asked, seen=True)
    if event.kind is Kind.EDGE:
        return replace(asked, edge_asked=state.piece.finished)
    if event.kind is Kind.PINCH:
        return asked  # the same trying on
    return replace(
        asked,
        asked_round=state.piece.finished,
        asks=state.asks + 1,
        asks_in_all=state.asks_in_all + 1,
    )


def _taken(state: State, event: e.ReadingTaken) -> State:
    piece, reading = state.piece, event.reading
    around = reading.kind in _EDGE and piece.shaping.straight
    known = replace(learn(piece, reading), sides_known=piece.sides_known or around)
    return replace(
        state,
        want=None,
        doubt=None,
        piece=known,
        last=reading,
        asked_round=state.asked_round if reading.kind is Kind.EDGE else piece.finished,
        recheck=_still(state, reading.kind),
        taken=Taken(reading, piece.finished, state.taken),
    )


def _looked(state: State, event: e.LookTaken) -> State:
    piece = state.piece
    told = state.looked == (event.look, piece.finished)  # said again it is no new evidence
    known = piece if told else learn_look(piece, event.look)
    later = event.look if state.sets else None
    seen = replace(known, look=None if later else event.look)
    answers = state.want in {Want(Kind.LOOK), Want(Kind.WORN)}
    want = None if answers else state.want
    looked = (event.look, piece.finished)
    return replace(
        state, doubt=None, piece=seen, seen=True, want=want, looked=looked, look_later=later
    )


def _counted(state: State, event: e.CountTaken) -> State:
    made, piece = state.made and replace(state.made, counted=event.count), state.piece
    over = event.count - piece.stitches
    read = piece.shaping.straight and piece.miscount.with_gauge[0] != 0
    found = replace(
        piece,
        gauge=counted(piece.gauge, piece.miscount, over),
        miscount=Miscount(),
        stitches=event.count,
        band=(*piece.band[:-1], event.count) if piece.band else (),
        slip=over + piece.slip,
        sides_known=piece.sides_known or (read and over != 0),
    )
    return count_judged(replace(state, doubt=None, made=made, last=event.count, piece=found))


def _still(state: State, kind: Kind) -> int:
    """When the edge is to be measured, after it was asked for or measured so."""
    due = kind in _EDGE and state.piece.finished >= state.recheck
    return 0 if due else state.recheck


def _weighed(state: State, event: e.YarnWeighed) -> State:
    last = state.last if event.fresh else WEIGHT
    weighing = Weighing(event.grams, event.stitches, event.fresh)
    return replace(state, weighed=(*state.weighed, weighing), last=last)


def _reading_doubted(state: State, event: e.ReadingDoubted) -> State:
    return replace(state, doubt=Doubt(event.reading, event.expected_mm, unit=event.unit))


CHANGES: dict[type, Callable[[State, Any], State]] = {
    e.ReadingWanted: _wanted,
    e.ReadingSkipped: lambda state, _event: replace(state, want=None),
    e.ReadingDoubted: _reading_doubted,
    e.CountDoubted: lambda state, event: replace(state, doubt=Doubt(count=event.count)),
    e.StartDoubted: lambda state, event: replace(state, doubt=Doubt(start=event.stage)),
    e.FinishDoubted: lambda state, _event: replace(state, doubt=Doubt()),
    e.DoubtDropped: lambda state, _event: replace(state, doubt=None),
    e.ReadingTaken: _taken,
    e.LookTaken: _looked,
    e.CountTaken: _counted,
    e.YarnWeighed: _weighed,
}
