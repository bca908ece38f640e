"""Decides on what there is to measure with: a tape, the head itself, or neither."""

from __future__ import annotations

from dataclasses import replace

from pattern.plan.trying_on import Head, Means, sits_now
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.folding import Turn
from pattern.session.state import State
from pattern.shape.reading_kinds import BY_TAPE, TAPE, Kind


def tape_there(state: State, command: c.TapeThere) -> Turn:
    """Whether the tape is asked for from now on."""
    return _means(state, replace(state.means, tape=command.there))


def head_there(state: State, command: c.HeadThere) -> Turn:
    """Whether trying on is asked for from now on."""
    return _means(state, replace(state.means, head=Head.HERE if command.there else Head.AWAY))


def _means(state: State, means: Means) -> Turn:
    """The event of these means, and the reading that they ask for where another one was wanted."""
    known = e.MeansKnown(means.tape, means.head)
    kind = state.want.kind if state.want is not None else None
    if kind in BY_TAPE:
        other = kind if means.tries_on else BY_TAPE[kind] if means.tape else None
    elif kind in TAPE and means.tape:
        return (known, e.ReadingWanted(kind, state.want.stitches)) if state.want else (known,)
    elif kind in TAPE and means.tries_on and sits_now(state.piece):
        other = Kind.EDGE if kind is Kind.DEPTH else Kind.FIT
    else:
        other = kind if kind is Kind.LOOK else None
    return (known, e.ReadingWanted(other)) if other is not None else (known,)
