"""Hands that hurt: answered with the caution at any place, in any words, and nothing moves."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.session.state import State
from pattern.trade.cautions import CAUTIONS
from tests.pieces import Story, begun, stories, told
from tests.properties import examples
from tests.wordings.places import others, said
from voice.caller.reply import Verdict
from voice.caller.understanding import PAIN, understood
from voice.sentences import finishing, pace
from voice.words import phrases
from voice.words.free.pain import hurts
from voice.words.free.spoken import match_spoken
from voice.words.grammar import parse, sentences

ONE = ("hand", "wrist", "thumb", "right hand", "left wrist", "elbow")
MANY = ("hands", "wrists", "fingers", "thumbs", "arms")
PAINS = st.one_of(
    st.builds(
        "{} {} {}".format,
        st.sampled_from(["my", "Ow, my", "sorry, my", "both my"]),
        st.sampled_from(ONE),
        st.sampled_from(["hurts", "is sore", "has gone numb", "is killing me", "keeps aching"]),
    ),
    st.builds(
        "{} {} {}".format,
        st.sampled_from(["my", "the", "oh, my poor"]),
        st.sampled_from(MANY),
        st.sampled_from(["hurt", "are sore", "are numb", "are tingling", "ache terribly"]),
    ),
    st.builds(
        "{} in my {}".format,
        st.sampled_from(["I've got cramp", "I have a pain", "there's a tingling", "it's numb"]),
        st.sampled_from([*ONE, *MANY]),
    ),
    st.sampled_from(
        ["I can't feel my fingers", "I've pins and needles", "it hurts", "my hands hurt"]
    ),
)
"""Common usage, no source."""
DOCTOR = "See a doctor if it doesn't go away."
PLACES = ("I-head", "I-yarn", "I-stitch", "I-begin", "R", "M", "A", "S", "B", "F", "P", "Q")
UNHURT = (
    "my hands don't hurt",
    "my wrist is not sore any more",
    "her hands were sore",
    "the fabric is stiff",
    "remind me every twenty minutes, my hands are tired",
    "it is stiff at the back",
    "my hand is on the hook",
)


@pytest.mark.parametrize("place", PLACES)
@given(words=PAINS)
@settings(max_examples=8, deadline=None)
def test_pain_is_answered_at_any_place(place: str, words: str) -> None:
    before, (reply,) = said(place, words)
    assert DOCTOR in reply.say
    assert reply.verdict is Verdict.DONE
    assert reply.state == before


@given(stories(), PAINS)
@settings(max_examples=examples(60), deadline=None)
def test_so_it_is_in_any_state_spoken_and_typed(story: Story, words: str) -> None:
    assert understood(words, story.state).commands == (PAIN,)
    assert [one.command for one in match_spoken(words, story.state)] == [PAIN]


@given(PAINS)
def test_a_question_that_stands_stays(words: str) -> None:
    asked = c.Undo()
    assert understood(words, begun(), asked).pending == asked


def test_with_more_said_both_are_done() -> None:
    before, (reply,) = said("R", "my hands are sore, can we stop for a bit")
    assert not before.paused
    assert reply.state.paused
    assert DOCTOR in reply.say


@pytest.mark.parametrize("words", UNHURT)
def test_no_pain_is_none(words: str) -> None:
    assert not hurts(words)


def test_hardly_anything_said_to_others_is_taken_for_pain() -> None:
    assert [words for words in others() if hurts(words)] == []


@pytest.mark.parametrize("state", [State(), begun(), told(begun(), c.Pause())])
def test_each_caution_on_hands_sends_to_a_doctor(state: State) -> None:
    assert "hands" in {caution.key for caution in CAUTIONS}
    said_ = (pace.pain(state), pace.REST, finishing.CAUTION_SENTENCES["hands"])
    assert all("ee a doctor if it doesn't go away." in each for each in said_)


def test_the_ear_listens_for_it_always() -> None:
    (row,) = [row for row in phrases.PHRASES if "my hands hurt" in row.forms]
    assert row.group is phrases.Group.ALWAYS
    for form in row.forms:
        for words in sentences(parse(form), {}):
            assert phrases.read(" ".join(words)) == PAIN
