"""Something told and asked about is not lost without a word when something else is said."""

from __future__ import annotations

import pytest

from tests.wordings.places import caller_at

TOLD = ("it measures 9 centimetres from one side to the other", "no wait, I ripped out one round")


@pytest.mark.parametrize("told", TOLD)
def test_it_is_said_that_it_was_left_out_where_the_work_goes_on(told: str) -> None:
    caller = caller_at("R")
    question = caller.hear(told)
    assert question.asks is not None
    gone_on = caller.hear("next")
    assert gone_on.say.startswith(question.say.split("?")[0] + ": left out.")
    assert gone_on.state.piece.finished > question.state.piece.finished


@pytest.mark.parametrize("told", TOLD)
@pytest.mark.parametrize("asked", ["again", "where am I", "how many more"])
def test_what_only_asks_leaves_the_question_open(told: str, asked: str) -> None:
    caller = caller_at("R")
    question = caller.hear(told)
    between = caller.hear(asked)
    assert between.asks == question.asks
    assert between.say.endswith(question.say)
    assert "left out" not in caller.hear("yes").say


def test_an_answer_lets_nothing_go() -> None:
    for answer in ("yes", "no", "no, ten", "yes, next"):
        caller = caller_at("R")
        caller.hear(TOLD[0])
        assert "left out" not in caller.hear(answer).say, answer
