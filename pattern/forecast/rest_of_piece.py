"""Plans the rest of a piece by simulating it round by round."""

from __future__ import annotations

from dataclasses import dataclass, replace

from pattern.errors import NeverEnds
from pattern.plan.advancing import advanced
from pattern.plan.next_round import most_rounds, next_round
from pattern.plan.piece import Piece
from pattern.session import commands as c
from pattern.session.decisions import decided
from pattern.session.events import (
    ReadingSkipped,
    ReadingWanted,
    RoundFinished,
    RoundOffered,
    StageStarted,
)
from pattern.session.folding import evolve, unfolding
from pattern.session.next_offer import offered_after
from pattern.session.reading_due import reading_due
from pattern.session.state import State
from pattern.shape.rounds import Round, Stage


@dataclass(frozen=True, slots=True)
class Planned:
    """The rest of the piece, worked as called and without further readings."""

    end: State
    readings: tuple[tuple[int, ReadingWanted], ...]
    """Readings that will be asked for, each with the rounds finished by then. Taking one makes some
    of the later ones unnecessary."""


def planned(state: State) -> Planned:
    """The rest of the piece as planned now; empty once all rounds are worked."""
    state = _at_work(state)
    readings: list[tuple[int, ReadingWanted]] = []
    for _ in range(most_rounds(state.piece) + 1):
        if state.offered is None:
            return Planned(state, tuple(readings))
        state = _worked(state)
        if want := reading_due(state):
            event = ReadingWanted(want.kind, want.stitches)
            readings.append((state.piece.finished, event))
            state = evolve(evolve(state, event), ReadingSkipped())
    raise NeverEnds(state.piece.finished)


def _worked(state: State) -> State:
    """The state after the offered round, with the next one offered."""
    state = evolve(state, RoundFinished())
    following = next_round(state.piece)
    if following is None:
        return evolve(state, StageStarted(Stage.FINISHING))
    return evolve(state, RoundOffered(following))


def planned_end(state: State) -> State:
    """The state after the rest is worked as called; an ended state is returned as it is."""
    return planned(state).end


def _at_work(state: State) -> State:
    """The state resumed, with the interview finished."""
    if state.paused:
        state = decided(state, c.Resume()).after
    if state.stage is Stage.SETUP:
        state = decided(state, c.Begin()).after
    return state


def rounds_made(state: State) -> tuple[Round, ...]:
    """The worked rounds, in order."""
    return tuple(made.round for made in state.rounds_made())[::-1]


def rounds_ahead(state: State) -> tuple[Round, ...]:
    """The unfinished rounds, as planned now."""
    state = _at_work(state)
    piece, offered = state.piece, state.offered
    ahead: list[Round] = []
    for _ in range(most_rounds(piece) + 1):
        if offered is None:
            return tuple(ahead)
        ahead.append(offered)
        piece = advanced(piece, offered, slips_found=state.slips_found)
        offered = next_round(piece)
    raise NeverEnds(piece.finished)


def begun_again(state: State) -> State:
    """The same piece begun again from its ring, with the gauge learned so far."""
    piece = Piece(settings=state.piece.settings, gauge=state.piece.gauge)
    fresh = State(
        piece=piece,
        stage=Stage.RING,
        means=state.means,
        taken=state.taken,
        weighed=state.weighed,
        known=state.known,
        swatches=state.swatches,
        washing=state.washing,
        wanted=state.wanted,
    )
    return replace(offered_after(unfolding(fresh)).after, undo=None)
