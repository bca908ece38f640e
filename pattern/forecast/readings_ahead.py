"""The readings that will be asked for in the rest of the piece."""

from __future__ import annotations

from dataclasses import replace

from pattern.forecast.rest_of_piece import at_work, worked
from pattern.plan.asking import ASKED_IN_ALL
from pattern.plan.next_round import most_rounds, next_round
from pattern.plan.readings import Reading, Want, expected, reading_of
from pattern.session.events import ReadingSkipped, ReadingTaken, ReadingWanted, RoundOffered
from pattern.session.folding import evolve
from pattern.session.reading_due import reading_due
from pattern.session.state import State
from pattern.shape.fits import FITS, Fit
from pattern.shape.reading_kinds import Kind

READ_TO_MM = 6.35
"""A quarter of an inch, to which most tapes are read; our choice."""

_FITTING = {Kind.FIT: Fit.RIGHT, Kind.EDGE: Fit.ABOVE, Kind.WORN: Fit.FALLS}
"""Words for a piece that fits as it should."""


def readings_ahead(state: State) -> tuple[tuple[int, ReadingWanted], ...]:
    """Readings that will be asked for, each with the rounds finished by then.

    Each is taken, and comes out as expected. One that does not may call for another.
    """
    state = at_work(state)
    readings: list[tuple[int, ReadingWanted]] = []
    for _ in range(most_rounds(state.piece) + ASKED_IN_ALL):
        if state.offered is None:
            break
        state = worked(state)
        if want := reading_due(state):
            event = ReadingWanted(want.kind, want.stitches)
            readings.append((state.piece.finished, event))
            state = _taken(evolve(state, event), want)
    return tuple(readings)


def _taken(state: State, want: Want) -> State:
    """The state after the reading, or after the word for a piece that fits as it should.

    A look is passed over, since it changes what is worked.
    """
    if want.kind is Kind.LOOK:
        return evolve(state, ReadingSkipped())
    after = evolve(state, ReadingTaken(_as_expected(state, want)))
    following = next_round(after.piece)
    return after if following is None else evolve(after, RoundOffered(following))


def _as_expected(state: State, want: Want) -> Reading:
    fit = _FITTING.get(want.kind)
    step_mm = READ_TO_MM if fit is None else FITS[fit].step_mm
    blank = reading_of(state.piece, want.kind, 0.0, step_mm, 0.0, stitches=want.stitches)
    blank = replace(blank, fit=fit)
    if not blank.tells_gauge:
        return blank
    return replace(blank, value_mm=expected(state.piece, blank).mean)
