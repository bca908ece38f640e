"""Turns a graph of words into a graph of the pieces that a net writes, in every way it may.

Such a net writes sentences: a capital at the start, a comma where a speaker pauses, a full stop at
the end, hyphens in numbers. Every such way of writing a phrase is a path; it ends with the net's
own sign for the end.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from voice.recognisers.net.tokens import Vocabulary
from voice.recognisers.net.word_graph import WordGraph

_COMMA, _STOPS = ",", (".", "?", "!")
_HYPHENATED = frozenset(["one", "two", "three", "four", "five", "six", "seven", "eight", "nine"])
"""Words that are written with a hyphen after tens."""


@dataclass(frozen=True, slots=True)
class Step:
    """One piece, leading to a later node, and the word that it completes, if any."""

    token: int
    target: int
    word: str | None = None


@dataclass(frozen=True, slots=True)
class TokenGraph:
    """Nodes and the steps from each; phrases begin in `start` and may end in `finals`."""

    steps: tuple[tuple[Step, ...], ...]
    start: int
    finals: frozenset[int]


def token_graph(graph: WordGraph, vocabulary: Vocabulary) -> TokenGraph:
    """Every way to write every phrase. Raises: KeyError for a word that cannot be written."""
    steps: list[list[Step]] = [[] for _ in range(graph.states)]

    def lay(source: int, tokens: tuple[int, ...], target: int, word: str) -> None:
        for token in tokens[:-1]:
            steps.append([])
            steps[source].append(Step(token, len(steps) - 1))
            source = len(steps) - 1
        steps[source].append(Step(tokens[-1], target, word))

    for arc in graph.arcs:
        for tokens in _written(arc.word, vocabulary, first=arc.source in graph.starts):
            lay(arc.source, tokens, arc.target, arc.word)
    finals = set(graph.finals)
    end = len(steps)
    steps.append([])
    for node in range(graph.states):
        # A comma changes nothing in what may follow.
        steps.append(list(steps[node]))
        steps[node].append(Step(vocabulary[_COMMA], len(steps) - 1))
        if node in finals:
            finals.add(len(steps) - 1)
            steps[node] += [Step(vocabulary[stop], end) for stop in _STOPS]
    start = graph.starts[0]
    if len(graph.starts) > 1:
        steps.append([step for node in graph.starts for step in steps[node]])
        start = len(steps) - 1
    return TokenGraph(tuple(map(tuple, steps)), start, frozenset(finals | {end}))


def _written(word: str, vocabulary: Vocabulary, *, first: bool) -> Iterator[tuple[int, ...]]:
    """The pieces of a word, once for each way in which it may be written there."""
    if word == "i" or word.startswith("i'"):
        yield vocabulary.cut(word.capitalize())
        return
    yield vocabulary.cut(word)
    if first:
        yield vocabulary.cut(word.capitalize())
    elif word in _HYPHENATED:
        yield (vocabulary["-"], *vocabulary.joined(word))
