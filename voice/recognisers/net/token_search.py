"""The likeliest phrases of a token graph, for a net that writes one piece after the other.

A beam search (Graves 2012, for such nets): the likeliest beginnings are kept and continued, all at
once. Beside them runs the text that the net would write if it were free, which tells how well any
phrase fits.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray

from voice.recognisers.net.token_graph import TokenGraph

Floats = NDArray[np.float32]
_FAR = 12.0
"""Largest distance from the best phrase of an alternative worth having; our choice."""
MOST_TOKENS = 72
"""Six a second for the longest utterance; a longer text is no phrase of ours."""


class Writer(Protocol):
    """A net that has heard an utterance and writes it down."""

    end: int
    """The token that ends a text."""

    def begin(self) -> Floats:
        """Natural logarithms of the likelihoods of the first token, (1, tokens)."""

    def go_on(self, rows: Sequence[int], tokens: Sequence[int]) -> Floats:
        """Logarithms of the next token, after each of these rows of the last answer and a token."""


@dataclass(frozen=True, slots=True)
class Found:
    """The result of a search."""

    phrases: dict[str, float]
    """Natural logarithm of the likelihood of each phrase, over the kept ways to write it."""
    free: float
    """Natural logarithm for the text that the net writes by itself, a token at a time."""
    tokens: int
    """Number of tokens in that text."""


class _Start(NamedTuple):
    """The beginning of a phrase."""

    score: float
    node: int
    words: tuple[str, ...]
    row: int
    """Its row in the last answer of the net."""
    token: int
    """Its last token, which the net has yet to be told."""


@dataclass(slots=True)
class _Free:
    """The text that the net writes by itself."""

    score: float = 0.0
    tokens: int = 0
    row: int = 0
    token: int = 0
    """The last token, which the net has yet to be told."""
    ended: bool = False

    def write(self, answer: Floats, end: int) -> None:
        """Add the likeliest token."""
        self.token = int(answer[self.row].argmax())
        self.score += float(answer[self.row, self.token])
        self.ended = self.token == end or self.tokens == MOST_TOKENS
        self.tokens += not self.ended


def search(writer: Writer, graph: TokenGraph, beam: int, far: float = _FAR) -> Found:
    """The likeliest phrases, with at most `beam` beginnings kept at a time.

    A beginning is given up when it lies `far` below a whole phrase (a natural logarithm).
    """
    done: dict[str, float] = {}
    free = _Free()
    answer = writer.begin()
    beginnings = [_Start(0.0, graph.start, (), 0, 0)]
    while True:
        for one in beginnings:
            if one.node in graph.finals:
                words, score = " ".join(one.words), one.score + float(answer[one.row, writer.end])
                done[words] = float(np.logaddexp(done.get(words, -np.inf), score))
        if not free.ended:
            free.write(answer, writer.end)
        floor = max(done.values(), default=-np.inf) - far
        kept = _longer(beginnings, graph, answer, beam, floor)
        rows, tokens = [one.row for one in kept], [one.token for one in kept]
        if not free.ended:
            rows, tokens = [*rows, free.row], [*tokens, free.token]
            free.row = len(kept)
        if not rows:
            return Found(done, free.score, free.tokens)
        answer = writer.go_on(rows, tokens)
        beginnings = [one._replace(row=row) for row, one in enumerate(kept)]


def _longer(
    beginnings: Sequence[_Start], graph: TokenGraph, answer: Floats, beam: int, floor: float
) -> list[_Start]:
    """The likeliest beginnings that are longer by one token."""
    longer = [
        _Start(
            one.score + float(answer[one.row, step.token]),
            step.target,
            (*one.words, step.word) if step.word else one.words,
            one.row,
            step.token,
        )
        for one in beginnings
        for step in graph.steps[one.node]
    ]
    longer = sorted((one for one in longer if one.score >= floor), reverse=True)
    # Further ways to write the same words come after all other words.
    seen: set[tuple[int, tuple[str, ...]]] = set()
    firsts: list[_Start] = []
    others: list[_Start] = []
    for one in longer:
        (others if (one.node, one.words) in seen else firsts).append(one)
        seen.add((one.node, one.words))
    return [*firsts, *others][:beam]
