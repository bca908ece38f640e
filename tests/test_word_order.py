"""The order of words in what is said to the program, and what it makes of the net's writing."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from voice.recognisers.net.free_search import FreeSearch
from voice.recognisers.net.token_search import Floats
from voice.recognisers.net.tokens import SPACE, Vocabulary
from voice.words.free.word_order import END, START, WordOrder, in_order, learnt_order
from voice.words.spoken_numbers import say_integer

WORDS = st.sampled_from(["a", "ball", "of", "wool", "bowl", "the", "brim", "is", "done"])
TEXTS = st.lists(st.lists(WORDS, min_size=1, max_size=5).map(" ".join), max_size=6)


@given(TEXTS, st.tuples(WORDS, WORDS))
def test_likelihoods_of_what_may_follow_add_up_to_one_at_most(
    texts: list[str], before: tuple[str, str]
) -> None:
    order = WordOrder(texts)
    words = {word for text in texts for word in text.split()} | {END}
    assert math.fsum(math.exp(order.log(before, word)) for word in words) <= 1 + 1e-9


@given(TEXTS.filter(bool))
def test_a_text_that_was_met_fits_better_than_one_of_words_never_met(texts: list[str]) -> None:
    order = WordOrder(texts)
    assert order.fitting(texts[0]) > order.fitting("x y z")


@given(st.integers(2, 199), st.integers(2, 199))
def test_no_number_fits_better_than_another_of_as_many_words(one: int, other: int) -> None:
    """The order of words must never tell which number was said."""
    texts = [f"it is {say_integer(number)} stitches around now" for number in (one, other)]
    if len(texts[0].split()) == len(texts[1].split()) and "hundred" not in " ".join(texts):
        assert in_order(texts[0]) == in_order(texts[1])
        assert learnt_order().fitting(texts[0]) == learnt_order().fitting(texts[1])


@pytest.mark.parametrize(
    ("meant", "misheard"),
    [
        ("i begin a new ball of wool", "i begin a new bowl of wool"),
        ("six centimetres of brim", "six same dinners of brim"),
        ("talk slower please", "talks lower please"),
    ],
)
def test_the_trades_words_fit_better_than_their_like(meant: str, misheard: str) -> None:
    assert learnt_order().fitting(meant) > learnt_order().fitting(misheard)


PIECES = ("<unk>", "<s>", "</s>", f"{SPACE}a", f"{SPACE}new", f"{SPACE}b", "owl", "all", "oat")


class Scripted:
    """A writer of "a new b...": how sure it is of each ending is given."""

    end = 2

    def __init__(self, endings: Sequence[float]) -> None:
        self._endings = endings
        self._texts: list[tuple[int, ...]] = [()]

    def begin(self) -> Floats:
        self._texts = [()]
        return self._answer()

    def go_on(self, rows: Sequence[int], tokens: Sequence[int]) -> Floats:
        self._texts = [(*self._texts[row], token) for row, token in zip(rows, tokens, strict=True)]
        return self._answer()

    def _answer(self) -> Floats:
        answer = np.full((len(self._texts), len(PIECES)), -20.0, np.float32)
        for row, text in zip(answer, self._texts, strict=True):
            if len(text) == 3:
                row[6:] = self._endings
            else:
                row[(3, 4, 5, None, 2)[len(text)] or 2] = 0.0
        return answer


@given(st.permutations([-0.9, -1.0, -1.4]))
def test_of_near_equals_the_one_that_fits_is_written_first(endings: list[float]) -> None:
    search = FreeSearch(Vocabulary(PIECES), learnt_order())
    texts = search.texts(Scripted(endings), 3, 0.0)
    assert max(texts, key=texts.__getitem__)[-1] == 7, "a new ball"


def test_what_the_net_is_sure_of_stands() -> None:
    search = FreeSearch(Vocabulary(PIECES), learnt_order())
    texts = search.texts(Scripted([-8.0, -8.0, -0.1]), 3, 0.0)
    assert max(texts, key=texts.__getitem__)[-1] == 8, "a new boat"


def test_the_search_begins_at_the_start_of_a_sentence() -> None:
    assert learnt_order().log(START, "how") > learnt_order().log(("a", "new"), "how")
