"""The odds that free wording was meant for the program, and what is done from which odds. Pure."""

from __future__ import annotations

import math
from dataclasses import dataclass

MOST_WORDS = 8
"""More words than this make it no likelier that they are meant for the program; our choice."""
_LEAST = 0.01
"""Chances nearer to 0 or 1 than this are no surer."""


@dataclass(frozen=True, slots=True)
class Measures:
    """The signs that a meaning was meant for the program; each is weighed by one constant."""

    chance: float
    """Logarithm of the odds of the meaning, over all texts that were written."""
    somebody: float
    """Logarithm of the odds that its texts were not said to somebody else, as the classifier has
    learnt; this alone doubts a meaning that is read by rule."""
    words: float
    """Number of its words, up to `MOST_WORDS`."""


@dataclass(frozen=True, slots=True)
class Constants:
    """The weight of each measure in the odds that something was meant as it was taken."""

    bias: float
    chance: float
    somebody: float
    words: float

    def log_odds(self, found: Measures) -> float:
        """Natural logarithm of the odds."""
        weighed = self.chance * found.chance + self.somebody * found.somebody
        return self.bias + weighed + self.words * found.words


CONSTANTS = Constants(bias=-5.14, chance=0.695, somebody=0.669, words=0.561)
"""Fitted as `python -m tests.bench words --fit` does, which holds out of learning what it speaks:
on 240 wordings of `tests/wordings/looked_at.txt`, and 240 sentences for others at four places each,
by its own voices."""


@dataclass(frozen=True, slots=True)
class Bars:
    """Logarithms of odds from which something is made of a meaning."""

    asked: float
    """A question costs little: it changes nothing, and unanswered it goes away."""
    told: float
    """An answer that changes nothing is told."""
    done: float
    """Anything else that may be done unasked is done; between the bars it is asked about."""

    def for_answers(self) -> Bars:
        """The bars of what answers a question, or may be taken for it: not only likely."""
        least = min(self.done, LIKELIER_THAN_NOT)
        return Bars(max(self.asked, least), max(self.told, least), max(self.done, least))


ALONE = Bars(asked=-1.0, told=-0.5, done=1.5)
"""Said where nobody else talks. From -2.0, -1.5 and -1.0, 95.0, 93.8 and 92.9 % of the wordings
that the constants were fitted on were taken as they were meant, and 20.1, 16.2 and 12.6 % of the
talk. `done` was 1.0 until two of 200 wordings of the benchmark were done wrongly from there."""
AGAIN = Bars(asked=0.5, told=0.5, done=2.0)
"""After one utterance that was no phrase, when others may be talking; our choice."""
CALLED = Bars(asked=-3.0, told=-2.5, done=-0.5)
"""After the attention words, which say that it is meant for the program; our choice."""
LIKELIER_THAN_NOT = 0.0
"""As a logarithm of odds."""
NEARLY = 1.0
"""So much below the lowest bar, it was probably meant for the program, and is kept as not
understood."""


def measures(chance: float, nothing: float, text: str) -> Measures:
    """The measures of a meaning that has some chance over all texts.

    `nothing` is the chance that those were said to somebody else, `text` the likeliest of them.
    """
    words = min(len(text.split()), MOST_WORDS)
    return Measures(_log_odds(chance), -_log_odds(nothing), float(words))


def _log_odds(chance: float) -> float:
    chance = min(max(chance, _LEAST), 1 - _LEAST)
    return math.log(chance / (1 - chance))
