"""Every command that a session would do can be asked about first."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.refusals import Refused
from pattern.trade.lengths import Amount, Unit
from tests.anything import ANY
from tests.wordings.places import caller_at
from voice.sentences.asked_first import _PLAIN, _QUESTIONS, question

PLACES = ("I-yarn", "R", "M", "A", "S", "Q", "B")


@given(st.sampled_from(PLACES), ANY)
def test_a_command_that_is_not_refused_has_its_question(place: str, command: c.Command) -> None:
    state = caller_at(place).state
    try:
        decide(state, command)
    except Refused:
        return
    if type(command) in _QUESTIONS | _PLAIN:
        assert question(command, state).endswith("? Yes or no.")


@pytest.mark.parametrize("unit", [None, *Unit])
@pytest.mark.parametrize("place", PLACES)
def test_a_bare_number_in_any_unit_has_its_question(place: str, unit: Unit | None) -> None:
    state, command = caller_at(place).state, c.Answer(Amount(50.0, 1.0, unit))
    try:
        decide(state, command)
    except Refused:
        return
    assert question(command, state).endswith("? Yes or no.")
