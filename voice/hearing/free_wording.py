"""When an utterance that is no phrase is listened to as free English, and what follows. Pure."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from pattern.session.commands import Command, GoOn, Resume
from voice.hearing.attention import Called
from voice.hearing.evidence import Action, Context, Evidence, Reason, Verdict
from voice.hearing.expectation import tells_a_number
from voice.hearing.utterance_part import Part
from voice.recognisers.recogniser import Hypothesis
from voice.words.free.amounts import amounts
from voice.words.free.matching import Match
from voice.words.free.word_order import WordOrder, learnt_order


@dataclass(frozen=True, slots=True)
class Bounds:
    """Constants of the odds that something was meant for the program, and meant as it was taken."""

    bias: float
    per_chance: float
    """For the logarithm of the odds of the meaning, over all texts that were written."""
    per_fit: float
    """For how its words follow each other (`WordOrder.fitting`)."""
    per_word: float
    """For each of its words, up to `MOST_WORDS`."""
    expected: float
    """For what answers something that is open."""

    def log_odds(self, measures: Sequence[float]) -> float:
        """Natural logarithm of the odds, from the measures of a meaning."""
        weights = (self.bias, self.per_chance, self.per_fit, self.per_word, self.expected)
        return sum(weight * each for weight, each in zip(weights, measures, strict=True))


def measures(
    chance: float, text: str, order: WordOrder, *, expected: bool
) -> tuple[float, float, float, float, float]:
    """The measures of a meaning that go with the constants of `Bounds`, in their order.

    `chance` is that of the meaning over all texts, `text` the likeliest of its own.
    """
    chance = min(max(chance, _LEAST), 1 - _LEAST)
    words = float(min(len(text.split()), MOST_WORDS))
    odds = math.log(chance / (1 - chance))
    return 1.0, odds, order.fitting(text), words, float(expected)


FEWEST_WORDS = 3
"""So many words at least are free wording, where no attention words came first and they answer
nothing that is open: the bounds were not fitted on talk of fewer."""
MOST_WORDS = 8
"""More words than this make it no likelier that they are meant for the program; our choice."""
_LEAST = 0.01
"""Chances nearer to 0 or 1 than this are no surer."""
BOUNDS = Bounds(bias=-2.51, per_chance=0.845, per_fit=0.402, per_word=0.722, expected=1.114)
"""Fitted as `python -m tests.bench words --fit` does, which holds out of learning what it speaks:
on 172 wordings of `tests/wordings/looked_at.txt` by four of the tuning voices, and 216 pieces of
tuning talk at four places each.
"""
SURE_SPOKEN = (0.0, 0.5)
"""Odds, as logarithms, from which a meaning is taken: in quiet, and after one utterance that was no
phrase, when others may be talking. Of what the bounds were fitted on, 88 and 86 % of the wordings
are taken for what they mean, and 5.0 and 3.7 % of the pieces of talk for something; with -0.5, 90
and 9.1 %."""
SURE_CALLED = -1.5
"""The same after the attention words, which say that it is meant for the program."""
MOST_OTHERS = len(SURE_SPOKEN) - 1
"""After more utterances in a row that were no phrase, others are taken to be talking."""
NEARLY = 2.0
"""So much below that, it was probably meant for the program, and is kept as not understood."""
SURE_NUMBER = 0.9
"""So probable against others that may have been said in its place, a number is taken unasked; our
choice."""
LIKELY_TEXT = 0.02
"""Texts less likely are left out: each takes time to be understood."""
_OPEN = {Reason.NO_PHRASE, Reason.UNLIKELY, Reason.CALL_ALONE, Reason.NOT_CALLED, Reason.PAUSED}


def worth_writing(found: Verdict, evidence: Evidence, context: Context) -> bool:
    """Whether an utterance may be free wording for the program: whole, no phrase, and either after
    what may be the attention words, or where they are not needed and nobody else talks.
    """
    if context.free is None or evidence.part is not Part.WHOLE or found.reason not in _OPEN:
        return False
    led = any(_lead(each.words, context) for each in evidence.opinion.hypotheses)
    return led or _alone(evidence, context)


def _alone(evidence: Evidence, context: Context) -> bool:
    """Whether what is said without the attention words is meant for the program."""
    needed = context.attention is not None and context.attention.needed
    return not needed and not evidence.amid_talk and context.others <= MOST_OTHERS


def _lead(words: str, context: Context) -> bool:
    lead = context.attention.words if context.attention else None
    return lead is not None and f"{words} ".startswith(f"{lead} ")


@dataclass(frozen=True, slots=True)
class Meant:
    """A meaning, over all texts."""

    command: Command
    text: str = ""
    """The likeliest of its texts."""
    asks: bool = False
    expected: bool = False
    called: Called = Called.NOT
    chance: float = 0.0
    share: float = 0.0
    """Of `chance`, from that text alone."""

    def with_text(self, text: str, called: Called, match: Match, share: float) -> Meant:
        """The meaning, after one more text of so much chance."""
        chance = self.chance + share
        if share <= self.share:
            return replace(self, chance=chance)
        return Meant(self.command, text, match.asks, match.expected, called, chance, share)

    @property
    def log_odds(self) -> float:
        """Natural logarithm of the odds that it was meant."""
        return BOUNDS.log_odds(
            measures(self.chance, self.text, learnt_order(), expected=self.expected)
        )


def freely(found: Verdict, evidence: Evidence, context: Context) -> Verdict:
    """The verdict on what was written: what is surely meant is done, or asked about where it
    changes the piece, or where its number is in doubt; else nothing is. In a pause, only what ends
    it is.
    """
    meant = meanings(evidence, context)
    best = max(meant, key=lambda one: one.chance, default=None)
    if best is None or (context.paused and not isinstance(best.command, Resume | GoOn)):
        return found
    called = best.called is Called.YES
    if not (called or best.expected or len(best.text.split()) >= FEWEST_WORDS):
        return found
    above = best.log_odds - (SURE_CALLED if called else SURE_SPOKEN[context.others])
    if above < 0:
        near = called or above >= -NEARLY
        return replace(found, missed=best.text if near else "")
    asks = best.asks or _number_in_doubt(best, meant)
    return replace(
        found,
        text=best.text,
        command=best.command,
        said=best.command,
        action=Action.ASK if asks else Action.ACT,
        reason=Reason.FREE_CHANGE if asks else Reason.FREE,
        score=best.chance,
        alternatives=(Hypothesis(best.text, best.chance),),
        candidates=(best.command,) if asks else (),
        called=best.called,
    )


def _number_in_doubt(best: Meant, meant: Iterable[Meant]) -> bool:
    """Whether another number may have been said in its place, or was said beside it."""
    if not tells_a_number(best.command):
        return False
    alike = sum(one.chance for one in meant if type(one.command) is type(best.command))
    return best.chance < SURE_NUMBER * alike or len(set(amounts(best.text))) > 1


def meanings(evidence: Evidence, context: Context) -> list[Meant]:
    """The meanings of the texts; texts that mean the same are likely together."""
    meant: dict[Command, Meant] = {}
    for each in evidence.texts or ():
        words, called = each.words, Called.NOT
        if context.attention and _lead(words, context):
            words, called = words[len(context.attention.words) + 1 :], Called.YES
        elif not _alone(evidence, context):
            continue
        if context.free is None or not words or each.score < LIKELY_TEXT:
            continue
        for match in context.free(words):
            if (command := match.command) is not None:
                so_far = meant.get(command, Meant(command))
                meant[command] = so_far.with_text(words, called, match, each.score * match.chance)
    return list(meant.values())
