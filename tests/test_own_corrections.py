"""What is corrected in the same breath is meant as corrected; common usage, no source."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.wordings.places import caller_at
from voice.caller.understanding import understood
from voice.words.free.own_corrections import corrected_in_breath
from voice.words.free.spoken import match_spoken
from voice.words.spoken_numbers import say_integer

TURNS = ("no wait", "sorry I meant", "or rather", "I mean", "no sorry", "make that", "scratch that")
TELLS = (
    "it is {} centimetres across",
    "{} around",
    "I have {} stitches",
    "make it {} centimetres deeper",
    "I ripped back {} rounds",
    "count {}",
)
WORKING = caller_at("R").state


@given(
    st.sampled_from(TELLS),
    st.sampled_from(TURNS),
    st.integers(2, 60),
    st.integers(2, 60),
    st.sampled_from([", ", " "]),
)
def test_a_number_said_anew_is_the_one_that_counts(
    tells: str, turn: str, first: int, then: int, mark: str
) -> None:
    assume(first != then)
    said = f"{tells.format(say_integer(first))}{mark}{turn}{mark}{say_integer(then)}"
    meant = tells.format(say_integer(then))
    assert understood(said, WORKING) == understood(meant, WORKING)
    aloud = said.replace(",", "")
    assert [one.command for one in match_spoken(aloud, WORKING)] == [
        one.command for one in match_spoken(meant, WORKING)
    ]


@given(st.sampled_from(TURNS), st.integers(2, 60))
def test_a_thing_said_anew_is_the_one_that_counts(turn: str, number: int) -> None:
    across = f"{say_integer(number)} across"
    said = f"{across}, {turn}, {say_integer(number + 1)} around"
    assert understood(said, WORKING) == understood(f"{say_integer(number + 1)} around", WORKING)
    assert corrected_in_breath(f"{across} {turn} around") == f"{say_integer(number)} around"


@pytest.mark.parametrize("turn", TURNS)
def test_a_phrase_said_instead_is_the_one_that_counts(turn: str) -> None:
    assert corrected_in_breath("sorry, I meant to say again") == "again"
    assert understood(f"next, {turn}, again", WORKING) == understood("again", WORKING)


def test_what_was_said_before_is_corrected_as_by_a_no() -> None:
    assert corrected_in_breath("I said twenty, I meant thirty") == "no, thirty"


@pytest.mark.parametrize(
    "words",
    [
        "what do you mean two across",
        "is that what I meant to do",
        "you know what I mean",
        "I see what you mean by one in each",
        "no wait",
    ],
)
def test_what_corrects_nothing_stays_as_it_is(words: str) -> None:
    assert corrected_in_breath(words) == words
