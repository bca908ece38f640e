"""When an utterance that is no phrase is listened to as free English, and what follows. Pure."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from pattern.session import commands as c
from pattern.session.decisions import only_tells
from voice.hearing.attention import Called
from voice.hearing.evidence import Action, Context, Evidence, Expectation, Reason, Verdict
from voice.hearing.expectation import tells_a_number
from voice.hearing.free_odds import (
    AGAIN,
    ALONE,
    CALLED,
    CONSTANTS,
    NEARLY,
    Bars,
    Measures,
    measures,
)
from voice.hearing.utterance_part import Part
from voice.recognisers.recogniser import Hypothesis
from voice.words.free.amounts import amounts
from voice.words.free.matched import Match
from voice.words.free.word_order import WordOrder

FEWEST_WORDS, FEW_WORDS = 2, 3
"""So many words at least are free wording, and up to so many they are few, where no attention words
came first and they answer nothing that is open: people say such to each other most. The fewest are
never done unasked: the bounds were not fitted on talk of so few."""
_ANSWERS = c.Answer | c.Change | c.Choose | c.HeadOf
"""Few words that answer a question which was not asked were said to somebody else."""
_ALONE = (ALONE, AGAIN)
"""The bars in quiet, and after one utterance that was no phrase, when others may be talking."""
MOST_OTHERS = len(_ALONE) - 1
"""After more utterances in a row that were no phrase, others are taken to be talking."""
SURE_NUMBER = 0.9
"""So probable against others that may have been said in its place, a number is taken unasked; our
choice."""
LEAST_CHANCE, LEAST_OF_FEW = 0.1, 0.5
"""A meaning less likely than this over all texts is none, whoever it is said to, and one of few
words too; our choice. Faint sounds that are no words at all are written as few."""
_LEAST = 1e-9
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

    command: c.Command
    text: str = ""
    """The likeliest of its texts."""
    asks: bool = False
    refused: bool = False
    """Whether it would only be told why it makes no sense here."""
    expected: bool = False
    called: Called = Called.NOT
    chance: float = 0.0
    nothing: float = 0.0
    """Chance that it was said to somebody else: the mean of its texts, as each is likely."""
    most: float = 0.0
    """Of `chance`, from `text` alone."""

    def with_text(self, text: Hypothesis, called: Called, match: Match) -> Meant:
        """The meaning, after one more text."""
        added = text.score * match.chance
        chance = self.chance + added
        nothing = self.nothing + (match.nothing - self.nothing) * added / max(chance, _LEAST)
        if added <= self.most:
            return replace(self, chance=chance, nothing=nothing)
        return Meant(
            match.command or self.command,
            text.words,
            match.asks,
            match.refused,
            match.expected,
            called,
            chance,
            nothing,
            added,
        )

    def measured(self, weigh: Expectation, order: WordOrder | None = None) -> Measures:
        """Its measures, by what the session expects; `order` is as in `measures`."""
        return measures(self.chance, self.nothing, self.text, weigh(self.command), order)


def freely(found: Verdict, evidence: Evidence, context: Context) -> Verdict:
    """The verdict on what was written: what is surely meant is done, or asked about where it
    changes the piece, or where its number is in doubt; what is only likely is asked about, or
    answered where that changes nothing; else nothing is. In a pause, only what ends it is.

    What is only likely is no answer to a question of the program's own, and ends no pause.
    """
    meant = meanings(evidence, context)
    best = max(meant, key=lambda one: one.chance, default=None)
    if best is None or (context.paused and not isinstance(best.command, c.Resume | c.GoOn)):
        return found
    called = best.called is Called.YES
    words = math.inf if called or best.expected else len(best.text.split())
    if words < FEWEST_WORDS or (words == FEWEST_WORDS and isinstance(best.command, _ANSWERS)):
        return found
    odds = _odds(best, context)
    bars = CALLED if called else _ALONE[context.others]
    answers = context.paused or context.asked or isinstance(best.command, c.Yes | c.No)
    if answers or words <= FEW_WORDS:
        bars = bars.for_answers()
    if best.refused or only_tells(best.command):
        action = Action.ACT if odds >= bars.told else Action.SILENT
    else:
        asks = best.asks or words == FEWEST_WORDS or _number_in_doubt(best, meant)
        action = _action(odds, bars, asks=asks)
    if action is Action.SILENT:
        near = called or odds >= min(bars.asked, bars.told) - NEARLY
        return replace(found, missed=best.text if near else "")
    return replace(
        found,
        text=best.text,
        command=best.command,
        said=best.command,
        action=action,
        reason=Reason.FREE_CHANGE if action is Action.ASK else Reason.FREE,
        score=best.chance,
        alternatives=(Hypothesis(best.text, best.chance),),
        candidates=(best.command,) if action is Action.ASK else (),
        called=best.called,
    )


def _odds(meant: Meant, context: Context) -> float:
    """Log odds that it was meant; none for a meaning that is hardly likely."""
    few = meant.called is not Called.YES and len(meant.text.split()) <= FEW_WORDS
    if meant.chance < (LEAST_OF_FEW if few else LEAST_CHANCE):
        return -math.inf
    return CONSTANTS.log_odds(meant.measured(context.expectation))


def _action(odds: float, bars: Bars, *, asks: bool) -> Action:
    """The action for so likely a meaning; `asks` for what is never done unasked."""
    if odds >= bars.done and not asks:
        return Action.ACT
    return Action.ASK if odds >= bars.asked else Action.SILENT


def _number_in_doubt(best: Meant, meant: Iterable[Meant]) -> bool:
    """Whether another number may have been said in its place, or was said beside it."""
    if not tells_a_number(best.command):
        return False
    alike = sum(one.chance for one in meant if type(one.command) is type(best.command))
    return best.chance < SURE_NUMBER * alike or len(set(amounts(best.text))) > 1


def meanings(evidence: Evidence, context: Context) -> list[Meant]:
    """The meanings of the texts; texts that come to the same here are likely together."""
    meant: dict[object, Meant] = {}
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
                so_far = meant.get(match.effect, Meant(command))
                text = Hypothesis(words, each.score)
                meant[match.effect] = so_far.with_text(text, called, match)
    return list(meant.values())
