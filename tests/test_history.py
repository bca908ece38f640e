"""Every event, found by introspection, comes back from the journal as it was."""

from __future__ import annotations

import json
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.journal.lines import Turn
from pattern.session.events import Event, ReadingDoubted, RoundOffered, Undone, WordingChosen
from pattern.session.folding import fold
from pattern.session.history import CODEC, VERSION, state_after
from pattern.session.state import State
from pattern.shape.rounds import Stage
from tests.openings import opening

HAT = {"head_mm": 540.0, "yarn": 4, "hook_mm": 4.0}
AT = "2026-03-01T18:30:00Z"
EVENTS: tuple[type, ...] = get_args(Event)
_WHOLE = st.integers(0, 10**6)
_NUMBER = st.floats(allow_nan=False, allow_infinity=False)

st.register_type_strategy(int, _WHOLE)
st.register_type_strategy(float, _NUMBER)
st.register_type_strategy(str, st.text(st.characters(exclude_categories=["Cs"])))


@pytest.mark.parametrize("kind", EVENTS, ids=lambda kind: kind.__name__)
@given(data=st.data())
def test_every_event_survives_the_journal(kind: type, data: st.DataObject) -> None:
    event = data.draw(st.from_type(kind))
    record = json.loads(json.dumps(CODEC.encode(event)))
    assert CODEC.decode(record) == event


@given(st.booleans(), st.integers(1, VERSION), st.integers(0, 3))
def test_a_choice_of_claps_kept_by_an_earlier_version_is_read_and_changes_nothing(
    on: bool, version: int, at: int
) -> None:
    """A record as versions 1 to 4 wrote it, taken from a journal of that time."""
    chosen = CODEC.decode({"type": "ClapsChosen", "on": on}, version)
    turns: list[Turn[Event]] = [
        Turn(opening(State(), HAT), AT),
        Turn((WordingChosen(True),), AT),
        Turn((Undone(),), AT),
    ]
    older: list[Turn[Event]] = [*turns[:at], Turn((chosen,), AT), *turns[at:]]
    assert state_after(older) == state_after(turns)


def test_a_history_adds_up_turn_by_turn() -> None:
    events = opening(State(), HAT)
    state = state_after([Turn(events, AT)])
    assert state == fold(State(), events)
    assert state.stage is Stage.RING


@given(st.sampled_from([("ring", 0), ("crown", 0), ("sides", 1), ("brim", 2)]))
def test_rounds_kept_before_shapes_were_data_belong_to_the_parts_of_a_hat(
    known: tuple[str, int],
) -> None:
    """A record as version 2 wrote it, taken from a journal of that time."""
    stage, _ = known
    kept = {
        "type": "RoundOffered",
        "sets": 0,
        "round": {
            "type": "Round",
            "number": 7,
            "stage": stage,
            "before": 36,
            "after": 42,
            "places": [0, 6, 12, 18, 24, 30],
        },
    }
    for version in (1, 2):
        offered = CODEC.decode(kept, version)
        assert isinstance(offered, RoundOffered)
        assert (offered.round.stage.value, offered.round.part) == known


def test_a_doubted_reading_kept_before_its_unit_was_is_in_the_makers_own() -> None:
    """A record as version 3 wrote it, taken from a journal of that time."""
    reading = {
        "type": "Reading",
        "kind": "across",
        "value_mm": 160.0,
        "step_mm": 1.0,
        "rounds": 4.0,
        "stitches": 24,
    }
    kept = {"type": "ReadingDoubted", "reading": reading, "expected_mm": 90.0}
    for version in (1, 2, 3):
        doubted = CODEC.decode(kept, version)
        assert isinstance(doubted, ReadingDoubted)
        assert doubted.unit is None
