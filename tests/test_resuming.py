"""After a pause: who is back at work is taken up again, and nothing of the piece moves by it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.session.decisions import HEARD_IN_PAUSE
from tests.pieces import Story, stories, told
from tests.wordings.places import others, said
from voice.caller.reply import Verdict
from voice.words.free.resuming import resumes
from voice.words.free.spoken import match_spoken

BACK = st.builds(
    "{} {} {}".format,
    st.sampled_from(["", "okay", "right", "so", "sorry,", "phew, well"]),
    st.sampled_from(
        [
            "I'm back",
            "I'm back from the door",
            "where were we",
            "let's carry on",
            "shall we go on",
            "can we continue",
            "keep going",
            "off we go",
            "back to work",
            "here I am",
        ]
    ),
    st.sampled_from(["", "now", "then", "again", "please"]),
)
"""Common usage, no source."""


@given(stories(), BACK)
def test_back_at_work_ends_a_pause_and_moves_nothing(story: Story, words: str) -> None:
    paused = told(story.state, c.Pause())
    assert resumes(words)
    assert [one.command for one in match_spoken(words, paused)] == [c.Resume()]
    assert told(paused, c.Resume()).piece == paused.piece


@pytest.mark.parametrize("words", ["right, where were we", "I'm back", "back", "go on", "ready"])
def test_plain_sentences_resume_at_once(words: str) -> None:
    before, (reply,) = said("P", words)
    assert before.paused
    assert not reply.state.paused
    assert reply.state.piece == before.piece
    assert "Round" in reply.say


@pytest.mark.parametrize(
    "words",
    [
        "I'm back, the dinner's in the oven",
        "the dinner's in the oven, right, where were we",
        "that was my sister on the phone, she sends her love. I'm back now",
        "okay, that's the washing out, back to the hat",
        "kids are in bed, let's get on",
        "the dinner is in the oven now where were we",
    ],
)
def test_being_back_may_be_told_among_other_things(words: str) -> None:
    before, (reply,) = said("P", words)
    assert not reply.state.paused
    assert reply.state.piece == before.piece


@pytest.mark.parametrize(
    "words",
    [
        "I'm not back yet",
        "I'll be back in a minute",
        "I'm back but I need five more minutes",
        "give us another five minutes",
        "still on the phone",
        "not yet",
        "no, not just yet",
    ],
)
def test_who_needs_more_time_is_told_that_the_pause_goes_on(words: str) -> None:
    before, (reply,) = said("P", words)
    assert reply.state == before
    assert reply.say == "Paused. Say resume to go on."


@pytest.mark.parametrize(
    "words", ["she wants to know when I'm back", "he said I'm back, mum", "I'm back tomorrow, mum"]
)
def test_being_back_told_of_another_time_or_by_another_resumes_nothing(words: str) -> None:
    assert said("P", words)[1][0].state.paused


@pytest.mark.parametrize(
    "words",
    ["that one's finished", "I make it fourteen across", "the edge is getting all frilly"],
)
def test_what_belongs_to_the_work_asks_whether_the_pause_is_over(words: str) -> None:
    before, (asks, done) = said("P", words, "yes")
    assert asks.verdict is Verdict.ASKED
    assert asks.state == before
    assert not done.state.paused
    assert done.state.piece == before.piece


def test_nobody_else_ends_it() -> None:
    assert [words for words in others() if resumes(words)] == []


def test_what_is_heard_in_a_pause_leaves_the_piece() -> None:
    before, _ = said("P")
    commands = (c.Resume(), c.GoOn(), c.Back(), c.Leave(), c.Ask(c.Asked.PAIN), c.Help())
    assert {type(command) for command in commands} <= set(HEARD_IN_PAUSE)
    assert {told(before, command).piece for command in commands} == {before.piece}


BEFORE_PAUSE = "I only ended up with eleven"


@pytest.mark.parametrize("words", ["right I'm back", "resume", "where were we", "go on"])
def test_a_question_that_stood_before_the_pause_stands_again(words: str) -> None:
    before, (asks, pauses, back, done) = said("R", BEFORE_PAUSE, "hang on a tick", words, "yes")
    assert asks.verdict is Verdict.ASKED
    assert pauses.state.paused
    assert not back.state.paused
    assert back.verdict is Verdict.ASKED
    question = asks.say.rpartition(". ")[2]
    assert back.say.endswith(question)
    assert back.state.piece == before.piece
    assert isinstance(done.command, c.Counted)


def test_yes_in_a_pause_leaves_the_question_until_it_is_over() -> None:
    before, (asks, _, yes, back, done) = said("R", BEFORE_PAUSE, "pause", "yes", "resume", "yes")
    assert yes.say == "Paused. Say resume to go on."
    assert yes.state.piece == before.piece
    assert back.say.endswith(asks.say)
    assert isinstance(done.command, c.Counted)


def test_work_in_a_pause_asks_whether_it_is_over_whatever_stood_before() -> None:
    _, (_, _, asks, back) = said(
        "R", BEFORE_PAUSE, "pause", "the edge is getting all frilly", "yes"
    )
    assert asks.say == "Go on? Yes or no."
    assert not back.state.paused
