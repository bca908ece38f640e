"""The rest of a piece as it is planned now, worked out by going through it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from pattern import commands as c
from pattern.decisions import decide
from pattern.events import ReadingWanted
from pattern.offering import WORKING, offered_after
from pattern.piece import Piece
from pattern.rounds import Round, Stage
from pattern.session import fold
from pattern.state import State


@lru_cache(maxsize=4)
def planned_end(state: State) -> State:
    """The state when everything left is worked as called, and no reading is taken any more.

    Remembered: a write-up asks for the same end many times.
    """
    state = _at_work(state)
    while state.stage in WORKING:
        aside = state.doubt is not None or state.want is not None
        state = fold(state, decide(state, c.Skip() if aside else c.Next()))
    return state


def _at_work(state: State) -> State:
    """The state listening, and past the interview."""
    if state.paused:
        state = fold(state, decide(state, c.Resume()))
    if state.stage is Stage.SETUP:
        state = fold(state, decide(state, c.Begin()))
    return state


def rounds_made(state: State) -> tuple[Round, ...]:
    """Worked rounds, the first one first."""
    return tuple(made.round for made in state.rounds_made())[::-1]


def rounds_ahead(state: State) -> tuple[Round, ...]:
    """The rounds not finished yet, as planned now."""
    return rounds_made(planned_end(state))[state.piece.finished :]


def begun_again(state: State) -> State:
    """The same hat from its ring, with the gauge that was learned meanwhile."""
    piece = Piece(settings=state.piece.settings, gauge=state.piece.gauge)
    fresh = State(piece=piece, stage=Stage.RING, taken=state.taken, weighed=state.weighed,
                  known=state.known, swatches=state.swatches, washing=state.washing,
                  wanted=state.wanted)  # fmt: skip
    return replace(fold(fresh, offered_after(fresh, ())), undo=None)


def readings_ahead(state: State) -> Iterator[tuple[int, ReadingWanted]]:
    """The readings that will be asked for, each with the rounds then finished, as planned now.

    As if none of them were taken; one that is taken makes some of the later ones needless.
    """
    state = _at_work(state)
    while state.stage in WORKING:
        aside = state.doubt is not None or state.want is not None
        turn = decide(state, c.Skip() if aside else c.Next())
        state = fold(state, turn)
        for event in turn:
            if isinstance(event, ReadingWanted):
                yield state.piece.finished, event
