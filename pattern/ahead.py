"""The rest of a piece as it is planned now, worked out by going through it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from pattern import commands as c
from pattern.decisions import decide
from pattern.events import ReadingWanted
from pattern.offering import WORKING, offered_after
from pattern.piece import Piece
from pattern.rounds import Round, Stage
from pattern.session import fold
from pattern.state import State


@dataclass(frozen=True, slots=True)
class Planned:
    """What is left, gone through as called, with no reading taken any more."""

    end: State
    readings: tuple[tuple[int, ReadingWanted], ...]
    """Those that are asked for on the way, each with the rounds then finished; one that is taken
    makes some of the later ones needless."""


def planned(state: State) -> Planned:
    """The rest of the piece as it is planned now; nothing of a piece that is worked."""
    state = _at_work(state)
    readings: list[tuple[int, ReadingWanted]] = []
    while state.stage in WORKING:
        aside = state.doubt is not None or state.want is not None
        turn = decide(state, c.Skip() if aside else c.Next())
        state = fold(state, turn)
        wanted = (event for event in turn if isinstance(event, ReadingWanted))
        readings += [(state.piece.finished, event) for event in wanted]
    return Planned(state, tuple(readings))


def planned_end(state: State) -> State:
    """The state when everything left is worked as called; one that has ended is its own end."""
    return planned(state).end


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
