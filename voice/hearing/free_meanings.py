"""Meanings of an utterance in free English, over all the texts that it may be. Pure."""

from __future__ import annotations

from dataclasses import dataclass, replace

from pattern.session import commands as c
from voice.hearing.attention import Called
from voice.hearing.evidence import Context, Evidence, Expectation
from voice.hearing.free_odds import AGAIN, ALONE, Measures, measures
from voice.recognisers.recogniser import Hypothesis
from voice.words.free.matched import Match
from voice.words.free.word_order import WordOrder

IN_QUIET = (ALONE, AGAIN)
"""The bars in quiet, and after one utterance that was no phrase, when others may be talking."""
MOST_OTHERS = len(IN_QUIET) - 1
"""After more utterances in a row that were no phrase, others are taken to be talking."""
_LEAST = 1e-9
LIKELY_TEXT = 0.02
"""Texts less likely are left out: each takes time to be understood."""


def is_for_us(evidence: Evidence, context: Context) -> bool:
    """Whether what is said without the attention words is meant for the program."""
    needed = context.attention is not None and context.attention.needed
    return not needed and not evidence.amid_talk and context.others <= MOST_OTHERS


def has_lead(words: str, context: Context) -> bool:
    """Whether words begin with the attention words."""
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


def meanings(evidence: Evidence, context: Context) -> list[Meant]:
    """The meanings of the texts; texts that come to the same here are likely together."""
    meant: dict[object, Meant] = {}
    for each in evidence.texts or ():
        words, called = each.words, Called.NOT
        if context.attention and has_lead(words, context):
            words, called = words[len(context.attention.words) + 1 :], Called.YES
        elif not is_for_us(evidence, context):
            continue
        if context.free is None or not words or each.score < LIKELY_TEXT:
            continue
        for match in context.free(words):
            if (command := match.command) is not None:
                so_far = meant.get(match.effect, Meant(command))
                text = Hypothesis(words, each.score)
                meant[match.effect] = so_far.with_text(text, called, match)
    return list(meant.values())
