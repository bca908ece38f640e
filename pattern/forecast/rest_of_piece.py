"""Plans the rest of a piece by simulating it round by round."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from pattern.errors import NeverEnds
from pattern.plan.advancing import advanced
from pattern.plan.next_round import most_rounds, next_round
from pattern.plan.piece import Piece
from pattern.session import commands as c
from pattern.session.decisions import decided
from pattern.session.events import RoundFinished, RoundOffered, StageStarted
from pattern.session.folding import evolve, unfolding
from pattern.session.next_offer import offered_after
from pattern.session.state import State
from pattern.shape.rounds import Round, Stage


def planned_end(state: State) -> State:
    """The state after the rest is worked as called, without further readings.

    A state that has ended is returned as it is.
    """
    state = at_work(state)
    for _ in range(most_rounds(state.piece) + 1):
        if state.offered is None:
            return state
        state = worked(state)
    raise NeverEnds(state.piece.finished)


def worked(state: State) -> State:
    """The state after the offered round, with the next one offered."""
    state = evolve(state, RoundFinished())
    following = next_round(state.piece)
    if following is None:
        return evolve(state, StageStarted(Stage.FINISHING))
    return evolve(state, RoundOffered(following))


def at_work(state: State) -> State:
    """The state resumed, back at the piece, with the interview finished."""
    state = replace(state, decorating=None) if state.decorating else state
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
    return _rest(state)[0]


def piece_planned(state: State) -> Piece:
    """The piece of planned_end, which is found sooner without the states on the way."""
    return _rest(state)[1]


def _rest(state: State) -> tuple[tuple[Round, ...], Piece]:
    state = at_work(state)
    return _worked_on(state.piece, state.offered, slips_found=state.slips_found)


@lru_cache(maxsize=32)
def _worked_on(
    piece: Piece, offered: Round | None, *, slips_found: bool
) -> tuple[tuple[Round, ...], Piece]:
    """The unfinished rounds and the piece after them; one answer often asks several times."""
    ahead: list[Round] = []
    for _ in range(most_rounds(piece) + 1):
        if offered is None:
            return tuple(ahead), piece
        ahead.append(offered)
        piece = advanced(piece, offered, slips_found=slips_found)
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
        decorated=state.decorated,
    )
    return replace(offered_after(unfolding(fresh)).after, undo=None)
