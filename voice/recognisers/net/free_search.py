"""The likeliest texts of an utterance, held to no phrases.

A beam search in which, beside the net, the order of words in what is said to the program counts: a
net of so few numbers knows too little of the trade to tell "a ball" from "a bowl". Counting both is
known as shallow fusion (Gulcehre et al. 2015, citation from memory).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from heapq import nlargest
from typing import NamedTuple

import numpy as np

from voice.recognisers.net.token_search import MOST_TOKENS, Floats, Writer
from voice.recognisers.net.tokens import SPACE, Vocabulary
from voice.words.free.word_order import END, START, Before, WordOrder, in_order

ORDER, EACH_WORD = 0.2, 1.0
"""Weight of the order of words beside the net, and what each word gets for being one, since the
order of words makes every longer text less likely. Of 0.2, 0.35 and 0.5 taken after a look at 100
wordings of `tests/wordings/looked_at.txt`, left out of the order: 19 % came back word for word
without it, 25, 26 and 27 % with it, and 26, 22, 23 and 23 % of their words were wrong."""
_FAR = 6.0
"""A beginning that lies so far below a whole text is given up; our choice."""


class _Beginning(NamedTuple):
    score: float
    tokens: tuple[int, ...]
    row: int
    """Its row in the last answer of the net."""
    word: str
    """The letters of its last word so far."""
    before: Before
    """The words before that one."""


class FreeSearch:
    """Searches with one net's pieces and one order of words."""

    def __init__(self, vocabulary: Vocabulary, order: WordOrder) -> None:
        """Take both."""
        self._vocabulary, self._order = vocabulary, order

    def texts(self, writer: Writer, beam: int, each: float) -> dict[tuple[int, ...], float]:
        """Texts in tokens with the natural logarithms of their scores, of `beam` beginnings kept
        at a time.

        `each` is what the writer adds to every token but the last; it is not counted here, where
        short texts have no phrases to win against.
        """
        done: dict[tuple[int, ...], float] = {}
        answer = writer.begin()
        beginnings = [_Beginning(0.0, (), 0, "", START)]
        for _ in range(MOST_TOKENS):
            longer: list[_Beginning] = []
            for one in beginnings:
                for token, log in _likeliest(answer[one.row], beam + 1):
                    if token == writer.end:
                        done[one.tokens] = one.score + log + self._end(one)
                    else:
                        longer.append(self._longer(one, token, log - each))
            floor = max(done.values(), default=-np.inf) - _FAR
            kept = nlargest(beam, (one for one in longer if one.score > floor))
            if not kept:
                break
            answer = writer.go_on([one.row for one in kept], [one.tokens[-1] for one in kept])
            beginnings = [one._replace(row=row) for row, one in enumerate(kept)]
        return {tokens: done[tokens] for tokens in nlargest(beam, done, key=done.__getitem__)}

    def _longer(self, one: _Beginning, token: int, log: float) -> _Beginning:
        """A beginning with one piece more; a word counts when the next one begins."""
        piece, tokens = self._vocabulary.piece(token), (*one.tokens, token)
        if not piece.startswith(SPACE):
            return _Beginning(one.score + log, tokens, one.row, one.word + piece, one.before)
        score, before = self._ordered(one.word, one.before)
        word = piece.removeprefix(SPACE)
        return _Beginning(one.score + log + score, tokens, one.row, word, before)

    def _end(self, one: _Beginning) -> float:
        score, before = self._ordered(one.word, one.before)
        return score + ORDER * self._order.log(before, END) + EACH_WORD

    def _ordered(self, written: str, before: Before) -> tuple[float, Before]:
        """The score of a word as it is written, and the words before the next one."""
        score = 0.0
        for word in in_order(written):
            score += ORDER * self._order.log(before, word) + EACH_WORD
            before = before[1], word
        return score, before


def _likeliest(row: Floats, count: int) -> Iterator[tuple[int, float]]:
    tokens: Sequence[int] = np.argpartition(row, -count)[-count:].tolist()
    return ((token, float(row[token])) for token in tokens)
