"""Scores of what was written down by ear: figures and words mean the same number."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words  # type: ignore[import-untyped]

from tests.bench.written_down import came_back, tokens


@given(st.integers(0, 999))
def test_a_number_is_the_same_in_words_and_in_figures(number: int) -> None:
    """In words by num2words, with its hyphen and its "and"."""
    assert tokens(num2words(number)) == tokens(str(number)) == [float(number)]


@given(st.lists(st.integers(0, 199), min_size=1, max_size=5))
def test_numbers_that_a_mark_divides_stay_apart(numbers: list[int]) -> None:
    for written in (", ".join(map(num2words, numbers)), ", ".join(map(str, numbers))):
        assert tokens(written) == list(map(float, numbers))


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("four and a half", "4.5"),
        ("four and a half", "4½"),
        ("two and three quarters", "2 3/4"),
        ("fifty two point two", "52.2"),
        ("five and three eighths", "5 and 3/8"),
        ("one hundred and forty three stitches", "143 stitches"),
        ("three plain, six times", "3 plane 6 times"),
    ],
)
def test_what_was_written_otherwise_came_back(said: str, written: str) -> None:
    assert came_back(said, [written]).lost == ()


def test_what_was_lost_is_named_and_either_may_have_it() -> None:
    said = "Round sixteen: two in the next, twice. Sixty stitches."
    one, other = "Round sixteen to in the next 16 stitches", "16 two the next sixty"
    assert came_back(said, [one]).lost == (2.0, 60.0)
    assert came_back(said, [other]).lost == ("round", "stitch")
    back = came_back(said, [one, other])
    assert (back.numbers, back.numbers_right, back.words, back.words_right) == (3, 3, 3, 3)
