"""A question whether the yarn lasts that tells how much there is, is answered with that."""

from __future__ import annotations

import pytest

from pattern.session import commands as c
from pattern.trade.lengths import Amount, Unit
from tests.wordings.places import caller_at

ASKED = (
    "the yarn is running out, I've got about {} grams, will that be enough for the rest?",
    "I have {} grams, will it last?",
    "there are only {} grams left, is that enough",
)


@pytest.mark.parametrize("asked", ASKED)
@pytest.mark.parametrize(("grams", "answer"), [(2, "No: "), (900, "Yes: ")])
def test_the_weight_told_is_what_is_answered_with(asked: str, grams: int, answer: str) -> None:
    caller = caller_at("R")
    assert caller.state.settings.stash_g is None
    question = caller.hear(asked.format(grams))
    assert question.asks == c.Weighed(Amount(float(grams), 1.0, Unit.GRAM))
    assert answer in caller.hear("yes").say


def test_a_question_that_tells_no_weight_is_answered_as_before() -> None:
    reply = caller_at("R").hear("will it last?")
    assert reply.command == c.Ask(c.Asked.ENOUGH)
