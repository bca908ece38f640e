"""The age of a wearer, as people tell it of somebody."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.trade.head_medians import Sex
from tests.wordings.places import others, said
from voice.words.free.ages import age_told
from voice.words.spoken_numbers import say_integer

TOLD = {
    "he'll be four in March": c.HeadOf(4.0, Sex.MALE),
    "she's nearly three": c.HeadOf(3.0, Sex.FEMALE),
    "he turns six next week": c.HeadOf(6.0, Sex.MALE),
    "she turned five last month": c.HeadOf(5.0, Sex.FEMALE),
    "she turned one last week": c.HeadOf(1.0, Sex.FEMALE),
    "she'll be two in three months": c.HeadOf(2.0, Sex.FEMALE),
    "it's for my niece, who turns seven in the summer": c.HeadOf(7.0, Sex.FEMALE),
    "the wee one's coming up to three": c.HeadOf(3.0, None),
    "twins, they'll be two in August": c.HeadOf(2.0, None),
    "she'll be eighteen months by then": c.HeadOf(1.5, Sex.FEMALE),
    "almost two": c.HeadOf(2.0, None),
    "she's nearly thirty": c.HeadOf(30.0, Sex.FEMALE),
}
"""Common usage, no source."""


@pytest.mark.parametrize(("words", "command"), TOLD.items())
def test_an_age_that_is_told_is_a_head(words: str, command: c.HeadOf) -> None:
    assert said("I-head", words)[1][0].command == command


@pytest.mark.parametrize(
    "words", ["it's nearly fifty six", "about 54", "my head is twenty two", "it is six inches"]
)
def test_a_head_by_the_tape_is_no_age(words: str) -> None:
    assert not isinstance(said("I-head", words)[1][0].command, c.HeadOf)


@given(
    st.sampled_from(["he", "she"]),
    st.sampled_from(
        ["'ll be {}", "'s nearly {}", " turns {}", " just turned {}", "'s going on {}"]
    ),
    st.integers(1, 16),
    st.sampled_from(["", " in May", " next week", " on Sunday", " in two months", " soon"]),
)
def test_any_age_however_it_is_told(who: str, turns: str, age: int, when: str) -> None:
    words = who + turns.format(say_integer(age)) + when
    assert age_told(words.replace("'", "")) == age


@pytest.mark.parametrize("place", ["R", "S", "B"])
def test_an_age_changes_nothing_at_work(place: str) -> None:
    for words in TOLD:
        before, (reply,) = said(place, words)
        assert reply.state.piece == before.piece


def test_few_sentences_for_others_hold_an_age() -> None:
    told = [words for words in others() if age_told(words) is not None]
    assert len(told) < len(others()) / 50
