"""When an utterance that is no phrase is listened to as free English, and what follows. Pure."""

from __future__ import annotations

from dataclasses import dataclass, replace

from pattern.session.commands import Command
from voice.hearing.attention import Called
from voice.hearing.evidence import Action, Context, Evidence, Reason, Verdict
from voice.hearing.utterance_part import Part
from voice.recognisers.recogniser import Hypothesis

SURE_SPOKEN, SURE_CALLED = 0.8, 0.6
"""So probable, over all texts that were written, a meaning is taken; and after the attention words.
Of 165 sentences of tuning talk, each as if said first in a quiet room, 7 are taken for something
with 0.6, 6 with 0.8 and 4 with 0.9, none of which changes the piece unasked; of 145 wordings meant
for the program, of those that were looked at, 110, 102 and 88 are."""
FEWEST_WORDS = 4
"""So many words at least are free wording, where no attention words came first: fewer are often the
answer of one person to another. With three, of the same sentences 7 and of the wordings 107."""
LIKELY_TEXT = 0.1
"""Texts less likely are left out: each takes up to a fifth of a second to be understood."""
MOST_OTHERS = 1
"""After more utterances in a row that were no phrase, others may be talking."""
_OPEN = {Reason.NO_PHRASE, Reason.UNLIKELY, Reason.CALL_ALONE, Reason.NOT_CALLED}


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
class _Meant:
    text: str
    asks: bool
    called: Called
    chance: float


def freely(found: Verdict, evidence: Evidence, context: Context) -> Verdict:
    """The verdict on what was written: what is surely meant is done, or asked about where it
    changes the piece; else nothing is.
    """
    meant = _meanings(evidence, context)
    command = max(meant, key=lambda one: meant[one].chance, default=None)
    if command is None:
        return found
    best = meant[command]
    if best.chance < (SURE_CALLED if best.called is Called.YES else SURE_SPOKEN):
        return found
    return replace(
        found,
        text=best.text,
        command=command,
        said=command,
        action=Action.ASK if best.asks else Action.ACT,
        reason=Reason.FREE_CHANGE if best.asks else Reason.FREE,
        score=best.chance,
        alternatives=(Hypothesis(best.text, best.chance),),
        candidates=(command,) if best.asks else (),
        called=best.called,
    )


def _meanings(evidence: Evidence, context: Context) -> dict[Command, _Meant]:
    """The meanings of the texts; texts that mean the same are likely together."""
    meant: dict[Command, _Meant] = {}
    for each in evidence.texts or ():
        if each.score < LIKELY_TEXT:
            continue
        words, called = each.words, Called.NOT
        if context.attention and _lead(words, context):
            words, called = words[len(context.attention.words) + 1 :], Called.YES
        elif not _alone(evidence, context) or len(words.split()) < FEWEST_WORDS:
            continue
        if context.free is None or not words or (match := context.free(words)).command is None:
            continue
        so_far = meant.get(match.command, _Meant(words, match.asks, called, 0.0))
        chance = so_far.chance + each.score * match.chance
        meant[match.command] = replace(so_far, chance=chance)
    return meant
