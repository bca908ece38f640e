"""Where a reply pauses, and that nothing of it is lost."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from voice.speech import clauses as of
from voice.speech.clauses import Clause, clauses
from voice.words.spoken_numbers import say_integer

NUMBERS = st.integers(2, 199).map(say_integer)
WORDS = NUMBERS | st.sampled_from(["plain", "the next", "round", "once", "a brim of", "say next"])
TEXTS = st.lists(st.tuples(WORDS, st.sampled_from([" ", ", ", ". ", ": ", "; ", "? "]))).map(
    lambda parts: "".join(word + mark for word, mark in parts)
)


def split(text: str) -> list[Clause]:
    return list(clauses(text))


@given(TEXTS)
def test_every_word_is_said_once_and_in_its_place(text: str) -> None:
    assert " ".join(clause.text for clause in clauses(text)).split() == text.split()


@given(TEXTS)
def test_the_first_clause_comes_at_once_and_each_other_after_a_pause(text: str) -> None:
    first, *others = [clause.pause_s for clause in clauses(text)] or [0.0]
    assert first == 0.0
    assert all(pause_s >= 0.2 for pause_s in others)


@given(NUMBERS, NUMBERS, st.sampled_from([", ", ": ", "; ", ". "]))
def test_no_number_runs_into_the_next(one: str, other: str, mark: str) -> None:
    """Two numbers that a mark divides are never rendered at one go."""
    first, second = split(f"One in each of the next {one}{mark}{other} times.")
    assert first.text.endswith(one + mark.strip())
    assert second.text == f"{other} times."
    assert second.pause_s >= of.AFTER_NUMBER_S


@given(TEXTS)
def test_no_clause_holds_two_numbers_at_a_comma(text: str) -> None:
    number = "|".join(map(say_integer, range(2, 20)))
    for clause in clauses(text):
        assert not re.search(rf"\b({number}), ({number})\b", clause.text)


@given(NUMBERS)
def test_the_count_stands_apart_and_a_request_further(number: str) -> None:
    count = f"{number.capitalize()} stitches."
    said = f"Round three: every stitch plain. {count} Measure around the edge. Or go on."
    round_, plain, counted, request, more = split(said)
    assert (round_.pause_s, plain.pause_s) == (0.0, of.AFTER_COLON_S)
    assert counted == Clause(count, of.COUNT_S)
    assert request.pause_s == of.REQUEST_S
    assert more.pause_s == of.SENTENCE_S
    assert of.REQUEST_S > of.COUNT_S > of.SENTENCE_S > of.AFTER_NUMBER_S


def test_an_instruction_after_a_request_stands_apart_too() -> None:
    asked, told = split("How wide a brim? Round four: plain.")[:2]
    assert (asked.text, told.pause_s) == ("How wide a brim?", of.REQUEST_S)


@pytest.mark.parametrize("text", ["", " \n ", "...", "?!", " , ; "])
def test_nothing_to_say_has_no_clause(text: str) -> None:
    assert split(text) == []
