"""A crown that is told to be wide enough, in the maker's own words."""

from __future__ import annotations

import pytest

from pattern.session import commands as c
from pattern.shape.rounds import Stage
from tests.wordings.places import said
from voice.caller.reply import Verdict

ENOUGH = (
    *("the top is wide enough", "I reckon that's big enough", "that's the crown done"),
    *("that'll do for the crown", "the top's done", "it looks big enough for me"),
)


@pytest.mark.parametrize("words", ENOUGH)
def test_the_next_part_is_asked_about_and_begins_with_a_yes(words: str) -> None:
    before, (asked, done) = said("R", words, "yes")
    assert asked.verdict is Verdict.ASKED
    assert asked.state.piece == before.piece
    _, (meant, agreed) = said("R", "start the sides", "yes")
    assert asked.say == meant.say
    assert done.state == agreed.state
    assert done.state.stage is Stage.SIDES


@pytest.mark.parametrize("words", ["the top is not wide enough", "that's nearly big enough"])
def test_what_is_missing_is_told(words: str) -> None:
    before, (reply,) = said("R", words)
    assert reply.command == c.Ask(c.Asked.WIDE_ENOUGH)
    assert reply.state == before


@pytest.mark.parametrize("words", ["is that big enough", "what hook am I meant to use"])
def test_a_question_is_none(words: str) -> None:
    before, (reply,) = said("R", words)
    assert (reply.asks, reply.state) == (None, before)


@pytest.mark.parametrize("place", ["S", "B", "F", "I-head"])
def test_elsewhere_it_starts_nothing(place: str) -> None:
    _, replies = said(place, "the top is wide enough")
    assert not isinstance(replies[0].asks, c.StartSides | c.StartNext)
    assert replies[0].state.piece == said(place, "again")[0].piece


@pytest.mark.parametrize(
    "words", ["I'm not sure if I did the last increase", "don't know if I did that repeat"]
)
def test_a_stitch_in_doubt_leads_to_counting(words: str) -> None:
    assert said("R", words)[1][0].say == said("R", "I lost count")[1][0].say
