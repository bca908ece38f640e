"""The odds that free wording was meant for the program, and what is done from which odds. Pure."""

from __future__ import annotations

import math
from dataclasses import dataclass

from voice.words.free.word_order import WordOrder, learnt_order

MOST_WORDS = 8
"""More words than this make it no likelier that they are meant for the program; our choice."""
_LEAST = 0.01
"""Chances nearer to 0 or 1 than this are no surer."""
_LEAST_WEIGHT, _LEAST_FITTING = 1e-3, -8.0
"""Lower weights, and texts that fit less, tell no more; our choice."""


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
    weight: float
    """Logarithm of the weight that the session gives the command before it is heard."""
    order: float
    """Mean logarithm of how likely each word follows those before it in what is said to the
    program."""


@dataclass(frozen=True, slots=True)
class Constants:
    """The weight of each measure in the odds that something was meant as it was taken."""

    bias: float
    chance: float
    somebody: float
    words: float
    weight: float
    order: float

    def log_odds(self, found: Measures) -> float:
        """Natural logarithm of the odds."""
        weighed = self.chance * found.chance + self.somebody * found.somebody
        weighed += self.words * found.words + self.weight * found.weight
        return self.bias + weighed + self.order * found.order


CONSTANTS = Constants(
    bias=-2.91, chance=0.692, somebody=0.499, words=0.509, weight=0.358, order=0.319
)
"""Fitted as `python -m tests.bench words --fit` does, which holds out of learning what it speaks:
on 240 wordings of `tests/wordings/looked_at.txt`, and 240 sentences for others at four places
each: with 7.8 % of this talk 91.7 % of the wordings are taken as they were meant."""


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
        """The bars of what answers a question, or may be taken for it, and of few words, which
        people say to each other more than any others: not only likely."""
        least = min(self.done, LIKELIER_THAN_NOT)
        return Bars(max(self.asked, least), max(self.told, least), max(self.done, least))


LIKELIER_THAN_NOT = 0.0
"""As a logarithm of odds."""
ALONE = Bars(asked=-1.5, told=LIKELIER_THAN_NOT, done=1.5)
"""Said where nobody else talks. Of `asked` -1.0, -1.5, -1.8 and -2.0 taken after a look at what
other constants were fitted on: 5.0, 3.3, 3.3 and 3.3 % of the wordings were missed, and of 90
sentences for others at one place 1, 1, 3 and 6 asked about. With these constants, of 125 sentences
for others -1.5 asks about 5, -1.8 about 9. `done` was 1.0 until two of 200 wordings of the
benchmark were done wrongly from there. `told` was -1.0, which answers 1 % of spoken wordings more;
but phrases that a room made unlike themselves were written down as something else, and answered,
from between the two (`python -m tests.bench room`)."""
AGAIN = Bars(asked=0.5, told=0.5, done=2.0)
"""After one utterance that was no phrase, when others may be talking; our choice."""
CALLED = Bars(asked=-3.0, told=-2.5, done=-0.5)
"""After the attention words, which say that it is meant for the program; our choice."""
NEARLY = 1.0
"""So much below the lowest bar, it was probably meant for the program, and is kept as not
understood."""


def measures(
    chance: float, nothing: float, text: str, weight: float, order: WordOrder | None = None
) -> Measures:
    """The measures of a meaning that has some chance over all texts.

    `nothing` is the chance that those were said to somebody else, `text` the likeliest of them,
    `weight` what the session expects of the command; `order` may be another one than that learnt.
    """
    words = min(len(text.split()), MOST_WORDS)
    fitting = max((order or learnt_order()).fitting(text), _LEAST_FITTING)
    return Measures(
        _log_odds(chance),
        -_log_odds(nothing),
        float(words),
        math.log(max(weight, _LEAST_WEIGHT)),
        fitting,
    )


def _log_odds(chance: float) -> float:
    chance = min(max(chance, _LEAST), 1 - _LEAST)
    return math.log(chance / (1 - chance))
