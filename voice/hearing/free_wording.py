"""When an utterance that is no phrase is listened to as free English, and what follows. Pure."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from pattern.session import commands as c
from pattern.session.decisions import only_tells
from voice.hearing.attention import Called
from voice.hearing.evidence import Action, Context, Evidence, Reason, Verdict
from voice.hearing.free_meanings import IN_QUIET, Meant, has_lead, is_for_us, meanings
from voice.hearing.free_odds import CALLED, CONSTANTS, NEARLY, Bars
from voice.hearing.utterance_part import Part
from voice.recognisers.recogniser import Hypothesis
from voice.words.free.amounts import amounts
from voice.words.numbers_told import tells_a_number

FEWEST_WORDS, FEW_WORDS = 2, 3
"""So many words at least are free wording, and up to so many they are few, where no attention words
came first and they answer nothing that is open: people say such to each other most. The fewest are
never done unasked: the bounds were not fitted on talk of so few."""
_ANSWERS = c.Answer | c.Change | c.Choose | c.HeadOf
"""Few words that answer a question which was not asked were said to somebody else."""
SURE_NUMBER = 0.9
"""So probable against others that may have been said in its place, a number is taken unasked; our
choice."""
LEAST_CHANCE, LEAST_OF_FEW = 0.1, 0.5
"""A meaning less likely than this over all texts is none, whoever it is said to, and one of few
words too; our choice. Faint sounds that are no words at all are written as few."""
_OPEN = {
    *(Reason.NO_PHRASE, Reason.UNLIKELY, Reason.FAINT_ANSWER),
    *(Reason.CALL_ALONE, Reason.NOT_CALLED, Reason.PAUSED),
}


def worth_writing(found: Verdict, evidence: Evidence, context: Context) -> bool:
    """Whether an utterance may be free wording for the program: whole, no phrase, and either after
    what may be the attention words, or where they are not needed and nobody else talks.
    """
    if context.free is None or evidence.part is not Part.WHOLE or found.reason not in _OPEN:
        return False
    led = any(has_lead(each.words, context) for each in evidence.opinion.hypotheses)
    return led or is_for_us(evidence, context)


def freely(found: Verdict, evidence: Evidence, context: Context) -> Verdict:
    """The verdict on what was written: what is surely meant is done, or asked about where it
    changes the piece, or where its number is in doubt; what is only likely is asked about, or
    answered where that changes nothing; else nothing is. In a pause, only what ends it is.

    What is only likely is no answer to a question of the program's own, and ends no pause. Puffs of
    noise are heard as a faint yes or no, and written down as a word or two: such stay too faint.
    """
    meant = meanings(evidence, context)
    best = max(meant, key=lambda one: one.chance, default=None)
    if best is None or (context.paused and not isinstance(best.command, c.Resume | c.GoOn)):
        return found
    called = best.called is Called.YES
    words = math.inf if called or best.expected else len(best.text.split())
    faint = found.reason is Reason.FAINT_ANSWER and len(best.text.split()) < FEW_WORDS
    told_others = words == FEWEST_WORDS and isinstance(best.command, _ANSWERS)
    if faint or words < FEWEST_WORDS or told_others:
        return found
    odds, bars = _odds(best, context), _bars(best, context, words)
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


def _bars(best: Meant, context: Context, words: float) -> Bars:
    """Log odds from which a meaning of so many words is told, asked about or done."""
    bars = CALLED if best.called is Called.YES else IN_QUIET[context.others]
    answers = context.paused or context.asked or isinstance(best.command, c.Yes | c.No)
    return bars.for_answers() if answers or words <= FEW_WORDS else bars


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
