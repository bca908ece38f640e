"""Readings by how hard they are, counts, and that the plan lists those that are asked for."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.forecast.readings_ahead import READ_TO_MM, readings_ahead
from pattern.plan.effort import ON_DISC, ON_SIDES, narrowed_mm
from pattern.plan.part_rules import RULES
from pattern.plan.readings import Want, expected, reading_of
from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.session.decisions import decide
from pattern.session.events import ReadingWanted
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.shape.catalogue import SHAPES
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from tests.bench.calling import call_through
from tests.bench.fit import FITS_MM, crowd_of
from tests.openings import opening
from tests.properties import examples

FOR_HEADS = [shape.name for shape in SHAPES if shape.for_head]


def answer(state: State) -> c.Command:
    """The reading that is asked for, as it is expected to come out; a look is left out."""
    want = state.want
    assert want is not None
    if want.kind is Kind.LOOK:
        return c.Skip()
    blank = reading_of(state.piece, want.kind, 0.0, READ_TO_MM, 0.0, stitches=want.stitches)
    mean_mm = expected(state.piece, blank).mean
    return c.Measured(
        Amount(mean_mm / 25.4, READ_TO_MM / 25.4, Unit.INCH), want.kind, want.stitches
    )


@settings(max_examples=examples(12))
@given(st.floats(450, 600), st.sampled_from(FOR_HEADS), st.integers(2, 6))
def test_the_plan_lists_the_readings_that_are_asked_for(
    head_mm: float, shape: str, yarn: int
) -> None:
    """Of a maker who answers, and whose readings come out as expected: these and no other."""
    state = fold(
        State(),
        opening(State(), {"head_mm": head_mm, "yarn": yarn, "shape": shape, "hook_mm": 5.0}),
    )
    ahead = readings_ahead(state)
    asked: list[tuple[int, ReadingWanted]] = []
    while state.stage is not Stage.FINISHING or state.want is not None:
        turn = decide(state, c.Next() if state.want is None else answer(state))
        state = fold(state, turn)
        assert state.doubt is None
        asked += [
            (state.piece.finished, event) for event in turn if isinstance(event, ReadingWanted)
        ]
    assert ahead == tuple(asked)


def test_a_flat_crown_is_measured_across_and_sides_around() -> None:
    """Eighty simulated makers, where nothing goes wrong. Common practice, no source: a tape lies
    across a flat piece by itself, and does not around its edge.
    """
    hats = [call_through(maker) for maker in crowd_of(77, 80, refuses=False)]
    readings = sum(hat.asked.readings for hat in hats)
    assert readings <= 4.2 * len(hats)
    assert sum(hat.asked.easy for hat in hats) >= 2 / 3 * readings
    assert all(0 < hat.asked.counts <= 3 for hat in hats)
    assert sum(abs(hat.girth_error_mm) <= FITS_MM for hat in hats) >= 0.98 * len(hats)


def test_effort_is_known_of_every_reading_that_a_part_takes() -> None:
    """Around a flat crown is the hardest of all, around sides one of the easiest."""
    for rules in RULES.values():
        assert all(effort >= 1.0 for effort in rules.sensible.values())
    assert ON_DISC[Kind.AROUND] == max(ON_DISC.values())
    assert ON_SIDES[Kind.AROUND] == min(ON_SIDES.values())


@given(st.floats(450, 600), st.sampled_from([Kind.ACROSS, Kind.AROUND]))
def test_the_gain_of_a_reading_is_what_it_narrows_for_its_effort(
    head_mm: float, kind: Kind
) -> None:
    """The harder it is held to be, the less it gains; nothing is gained by one without news."""
    state = fold(State(), opening(State(), {"head_mm": head_mm, "yarn": 4, "hook_mm": 5.0}))
    while state.piece.finished < 8:
        state = fold(state, decide(state, c.Skip() if state.want else c.Next()))
    gain_mm = narrowed_mm(state.piece, Want(kind), ON_DISC)
    assert gain_mm > 0
    twice = narrowed_mm(state.piece, Want(kind), {kind: 2 * ON_DISC[kind]})
    assert math.isclose(2 * twice, gain_mm)
    known = fold(state, decide(state, c.Measured(answer_of(state, kind), kind)))
    assert narrowed_mm(known.piece, Want(kind), ON_DISC) < gain_mm / 2


def answer_of(state: State, kind: Kind) -> Amount:
    return Amount(
        expected(state.piece, reading_of(state.piece, kind, 0.0, 1.0, 0.0)).mean, 1.0, Unit.MM
    )


@pytest.mark.parametrize("depth_mm", [110.0, 190.0])
def test_short_sides_are_worth_a_harder_reading_of_the_crown(depth_mm: float) -> None:
    """Sides of two rounds cannot be corrected for long, so the crown has to be right."""
    answers = {"head_mm": 560.0, "yarn": 4, "hook_mm": 5.0, "depth_mm": depth_mm}
    kinds = {event.kind for _, event in readings_ahead(fold(State(), opening(State(), answers)))}
    assert (Kind.ACROSS in kinds) is (depth_mm > 150)
