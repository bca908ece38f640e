"""Pieces of words, the ways a phrase may be written with them, and the search for the likeliest.

Checked against enumeration: all ways to cut a text, all sentences of a small grammar, all paths.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.properties import examples
from tests.test_word_graph import SMALL, all_sentences
from voice.recognisers.net.token_graph import TokenGraph, token_graph
from voice.recognisers.net.token_search import Floats, search
from voice.recognisers.net.tokens import SPACE, Vocabulary, read_vocabulary
from voice.recognisers.net.word_graph import side_by_side, word_graph

LETTERS = "abcdefghijklmnopqrstuvwxyz"
PIECES = (
    "",
    "<s>",
    "</s>",
    SPACE,
    *LETTERS,
    *LETTERS.upper(),
    ",",
    ".",
    "?",
    "!",
    "-",
    "on",
    "one",
    SPACE + "t",
    "tw",
    SPACE + "one",
    "nt",
    "count",
    "Co",
    "ore",
)
VOCABULARY = Vocabulary(PIECES)
END = PIECES.index("</s>")


@given(st.text(alphabet=LETTERS + " ", min_size=1).filter(lambda text: "  " not in text))
def test_the_pieces_of_a_text_spell_it(text: str) -> None:
    pieces = [PIECES[number] for number in VOCABULARY.cut(text)]
    assert "".join(pieces) == SPACE + text.replace(" ", SPACE)
    # Nothing is left to join, so no text of these pieces is shorter by one join.
    assert not any(a + b in PIECES for a, b in itertools.pairwise(pieces))


def test_what_was_learnt_first_is_joined_first() -> None:
    # "on" stands before "one", and both before the piece with a space.
    assert [PIECES[n] for n in VOCABULARY.cut("one")] == [SPACE + "one"]
    assert [PIECES[n] for n in VOCABULARY.cut("cone")] == [SPACE, "c", "one"]
    with pytest.raises(KeyError):
        VOCABULARY.cut("6")


def _with_length(piece: bytes) -> bytes:
    size = len(piece)
    return (bytes([size]) if size < 128 else bytes([128 + size % 128, size // 128])) + piece


@given(st.lists(st.text(max_size=60), max_size=30))
def test_a_list_of_pieces_is_read_whole_or_refused(pieces: list[str]) -> None:
    data = b"".join(_with_length(piece.encode()) for piece in pieces)
    vocabulary = read_vocabulary(data)
    for piece in filter(None, pieces):
        assert pieces[vocabulary[piece]] == piece
    if pieces and pieces[-1]:
        with pytest.raises(ValueError, match="ends within"):
            read_vocabulary(data[:-1])


def texts(graph: TokenGraph) -> Iterator[tuple[tuple[int, ...], str]]:
    """Every path: its tokens and its words."""
    waiting: list[tuple[int, tuple[int, ...], tuple[str, ...]]] = [(graph.start, (), ())]
    while waiting:
        node, tokens, words = waiting.pop()
        if node in graph.finals:
            yield tokens, " ".join(words)
        waiting += [
            (step.target, (*tokens, step.token), (*words, step.word) if step.word else words)
            for step in graph.steps[node]
        ]


def test_every_way_to_write_is_a_phrase_and_every_phrase_is_written() -> None:
    graph = token_graph(word_graph(SMALL), VOCABULARY)
    found = set()
    for tokens, words in texts(graph):
        text = "".join(PIECES[token] for token in tokens)
        assert re.sub("[,.?!]", "", text).replace("-", SPACE).lower() == SPACE + words.replace(
            " ", SPACE
        )
        found.add((text, words))
    assert {words for _, words in found} == all_sentences(SMALL)
    written = {t.replace(SPACE, " ").strip() for t, words in found if words == "count twenty one"}
    assert {"Count twenty-one.", "count twenty one", "Count, twenty one?"} <= written


class Table:
    """A net whose answers are drawn: they depend on all tokens before."""

    end = END

    def __init__(self, seed: int) -> None:
        self.seed = seed
        self.rows: list[tuple[int, ...]] = [()]

    def begin(self) -> Floats:
        self.rows = [()]
        return self.answers()

    def go_on(self, rows: Sequence[int], tokens: Sequence[int]) -> Floats:
        self.rows = [(*self.rows[row], token) for row, token in zip(rows, tokens, strict=True)]
        return self.answers()

    def answers(self) -> Floats:
        return np.stack([self.answer(row) for row in self.rows])

    def answer(self, tokens: tuple[int, ...]) -> Floats:
        drawn = np.random.default_rng([self.seed, *tokens]).normal(0, 2, len(PIECES))
        return np.asarray(drawn - np.log(np.exp(drawn).sum()), np.float32)

    def score(self, tokens: tuple[int, ...]) -> float:
        text = (*tokens, END)
        return float(sum(self.answer(text[:n])[token] for n, token in enumerate(text)))


@settings(max_examples=examples(20))
@given(seed=st.integers(0, 999))
def test_the_search_finds_what_trying_everything_finds(seed: int) -> None:
    graph = token_graph(side_by_side(["one", "two", "count one"]), VOCABULARY)
    table = Table(seed)
    found = search(table, graph, beam=500, far=np.inf)
    every: dict[str, list[float]] = {}
    for tokens, words in texts(graph):
        every.setdefault(words, []).append(table.score(tokens))
    assert set(found.phrases) == set(every)
    for words, score in found.phrases.items():
        assert score == pytest.approx(np.logaddexp.reduce(every[words]), abs=1e-3)
    narrow = search(table, graph, beam=3).phrases
    assert all(narrow[words] <= found.phrases[words] + 1e-3 for words in narrow)


@given(seed=st.integers(0, 999))
def test_beside_the_phrases_goes_what_the_net_writes_by_itself(seed: int) -> None:
    table, score = Table(seed), 0.0
    tokens: tuple[int, ...] = ()
    found = search(table, token_graph(side_by_side(["two"]), VOCABULARY), beam=2)
    while len(tokens) < 200:
        answer = table.answer(tokens)
        score += float(answer.max())
        if answer.argmax() == END or len(tokens) == found.tokens:
            break
        tokens = (*tokens, int(answer.argmax()))
    assert len(tokens) == found.tokens
    assert found.free == pytest.approx(score, abs=1e-3)
