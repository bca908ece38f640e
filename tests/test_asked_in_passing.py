"""Questions and answers in passing, in words of one's own."""

from __future__ import annotations

import pytest

from pattern.session import commands as c
from tests.wordings.places import caller_at
from voice.words.free.asked_now import asked_now
from voice.words.free.spellings import said_plainly
from voice.words.free.to_begin import to_begin


@pytest.mark.parametrize(
    ("said", "asked"),
    [
        ("how am I getting on", c.Asked.WHERE),
        ("so how are we doing now", c.Asked.WHERE),
        ("is it too shallow would you say", c.Asked.SIZE_NOW),
        ("nearly there am I", c.Asked.ROUNDS),
    ],
)
def test_the_way_that_is_left_is_asked_for(said: str, asked: c.Asked) -> None:
    assert asked_now(said_plainly(said), caller_at("S").state) == c.Ask(asked)


@pytest.mark.parametrize("said", ["that'll do me, off we go", "that will do nicely", "it'll do"])
def test_what_will_do_begins(said: str) -> None:
    assert to_begin(said_plainly(said)) == c.Begin()


def test_a_round_that_was_called_is_counted_all_round() -> None:
    caller = caller_at("R")
    count = caller.state.piece.stitches
    assert caller.hear(f"I make it {count} all round").asks == c.Counted(count)


def test_rounds_pulled_out_are_no_answer_to_a_question_for_a_number() -> None:
    caller = caller_at("S")
    caller.hear("I've lost count of where I am")
    assert caller.hear("pulled out the last two").asks == c.RippedBack(2)


def test_a_weight_is_told_as_it_is_asked_whether_it_will_do() -> None:
    asked = caller_at("S").hear("will forty grams see me out").asks
    assert isinstance(asked, c.Weighed)
    assert asked.amount.value == 40.0
