"""How likely one word follows two others in what is said to the program.

A net that writes free English hears "six same dinners of brim" where a maker says "six centimetres
of brim"; the order of words in the wordings that free wording is learnt from tells the likelier.
Where three words in a row were not met, two are asked, then one (Witten and Bell 1991, method C;
citation from memory).
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cache
from itertools import chain

from voice.words import typed_text
from voice.words.free.amounts import MASK
from voice.words.free.weights import NOTHING
from voice.words.free.wordings import WORDINGS, wordings
from voice.words.spoken_numbers import ONES, TEENS, TENS

Before = tuple[str, str]
"""The two words before one."""
_Run = tuple[str, ...]
"""Words in a row."""
START: Before = ("^", "^")
END = "$"
_UNMET = 1e-5
"""Share of what is left for words never met that one of them gets; our choice."""
_NUMBERS = frozenset((*ONES, *TEENS, *TENS))


def in_order(text: str) -> list[str]:
    """The plain words of a text; every word of a number is the same."""
    words = typed_text.normalise(text).split()
    return [MASK if word in _NUMBERS or word[0].isdigit() else word for word in words]


def _threes(text: str) -> Iterator[_Run]:
    words = [*START, *in_order(text), END]
    return zip(words, words[1:], words[2:], strict=False)


class WordOrder:
    """Counts of words in a row, and the likelihoods that follow from them."""

    def __init__(self, texts: Iterable[str]) -> None:
        """Count the words of some texts."""
        self._times: dict[_Run, int] = {}
        self._after = Counter[_Run]()
        self._kinds = Counter[_Run]()
        runs = Counter[_Run](chain.from_iterable(map(_threes, texts)))
        for _ in range(3):
            self._times.update(runs)
            shorter = Counter[_Run]()
            for run, times in runs.items():
                self._after[run[:-1]] += times
                self._kinds[run[:-1]] += 1
                shorter[run[1:]] += times
            runs = shorter
        self._known: dict[tuple[Before, str], float] = {}

    def log(self, before: Before, word: str) -> float:
        """Natural logarithm of the likelihood of a word, or the end, after two words."""
        if (found := self._known.get((before, word))) is None:
            found = self._known[before, word] = math.log(self._likelihood(before, word))
        return found

    def fitting(self, text: str) -> float:
        """Mean of the logarithms of a text's words, its end among them."""
        words = [*START, *in_order(text), END]
        places = range(len(START), len(words))
        logs = [self.log((words[at - 2], words[at - 1]), words[at]) for at in places]
        return sum(logs) / len(logs)

    def _likelihood(self, before: Before, word: str) -> float:
        likely = _UNMET
        for run in ((), before[1:], before):
            kinds = self._kinds[run]
            if kinds:
                likely = (self._times.get((*run, word), 0) + kinds * likely) / (
                    self._after[run] + kinds
                )
        return likely


@cache
def learnt_order() -> WordOrder:
    """The order of words in the wordings, without those said to somebody else."""
    meant = wordings(WORDINGS.read_text("utf-8"))
    return WordOrder(text for meaning, text in meant if meaning != NOTHING)
