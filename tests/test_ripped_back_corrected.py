"""How many rounds were ripped back is corrected as a measure is."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.wordings.places import caller_at
from voice.words.spoken_numbers import say_integer


@given(st.integers(1, 4), st.integers(1, 4))
def test_the_right_number_stands_in_the_place_of_the_wrong_one(wrong: int, right: int) -> None:
    corrected, said_at_once = caller_at("R"), caller_at("R")
    corrected.hear(f"ripped back {say_integer(wrong)} rounds")
    told = corrected.hear(f"no, {say_integer(right)}")
    at_once = said_at_once.hear(f"ripped back {say_integer(right)} rounds")
    assert told.state.piece == at_once.state.piece
    assert told.say == f"Taken back. {at_once.say}"


def test_a_bare_no_takes_it_back_and_more_than_are_worked_changes_nothing() -> None:
    caller = caller_at("R")
    before = caller.state.piece
    after = caller.hear("ripped back two rounds").state.piece
    assert caller.hear("no, five hundred").state.piece == after
    assert "two rounds ripped back" in caller.hear("what did I just tell you").say
    assert caller.hear("no").state.piece == before


@pytest.mark.parametrize("then", ["next", "where am i"])
def test_after_more_work_a_number_corrects_nothing(then: str) -> None:
    caller = caller_at("R")
    caller.hear("ripped back two rounds")
    moved = caller.hear(then).state.piece
    finished = caller.hear("no, three").state.piece.finished
    assert (finished == moved.finished) == (then == "next")
