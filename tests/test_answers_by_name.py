"""Answers of the interview that are told by a name in them."""

from __future__ import annotations

import pytest

from pattern.session import commands as c
from pattern.session.state import State
from pattern.trade.lengths import Unit
from tests.pieces import told
from voice.words.free.answers_by_name import name_in_answer
from voice.words.free.matched import Match


@pytest.mark.parametrize(
    ("words", "unit"),
    [
        ("i am used to inches", Unit.INCH),
        ("let us say inches", Unit.INCH),
        ("imperial for me please", Unit.INCH),
        ("i would rather work in centimetres", Unit.CM),
        ("the metric way", Unit.CM),
        ("inches or centimetres it is all the same", None),
        ("it is twenty two inches", None),
        ("the ordinary way", None),
    ],
)
def test_the_one_unit_that_is_named_is_taken(words: str, unit: Unit | None) -> None:
    """An amount is no choice of a unit: it would be lost."""
    wanted = None if unit is None else Match(c.Choose("unit", unit.value))
    for state in (State(), told(State(), c.HeadOf())):
        assert state.question in {"head_mm", "unit"}
        assert name_in_answer(words, state) == wanted
