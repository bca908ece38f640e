"""Addressed mode: while the room talks, only what follows the attention words counts.

It switches itself on when much is heard that is no phrase, and off when the room has been quiet,
and says so each time. Pure, as the turns are.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from pattern.commands import Command
from pattern.errors import RoundsAloudError
from voice import grammar
from voice.expectation import Reader
from voice.phrases import PHRASES, Group, grammar_of
from voice.ports_hearing import Hypothesis, Opinion

CHOICES = ("listen basket", "yellow basket", "purple basket")
"""Attention words to choose from; others may be taken, see `weakness`.

The first three of 17 pairs by `python -m tests.bench room --attention --voices 8 --minutes 12`
(tuning voices and text): all 24 were found, 5 and 10 dB over talk too, at no false alarm.
"""
TALK_WINDOW_S = 60.0
TALKS_AT = 5
"""So many utterances in a row within the window that were no phrase, and the room is talking."""
QUIET_AFTER_S = 120.0
"""Nothing else heard for so long, and the room is quiet again."""

MEANT = 50.0
"""How much likelier a phrase is that follows the attention words than one that follows nothing. Of
1, 7, 50 and 400 taken after a look at tuning voices, over talk and in quiet: 7 and 50 heard more
than 1, and 400 took more for something else."""


CALLED_FROM = 0.5
"""So probable, the attention words were heard. In 312 utterances of tuning talk and prose they were
0.12 at most."""


class AttentionUnheard(RoundsAloudError):  # noqa: N818 - it reads as what happened
    """Attention words that the engines cannot listen for."""

    def __init__(self, words: str, unknown: Sequence[str]) -> None:
        """Name those of the words that are the reason."""
        super().__init__(
            f"I cannot listen for {words!r}, as I do not know how it sounds "
            f"({', '.join(unknown)}); take other words, such as --attention {CHOICES[0]!r}."
        )


class When(StrEnum):
    """When the attention words are needed."""

    AUTO = "auto"
    ALWAYS = "always"
    NEVER = "never"


class Switch(StrEnum):
    """What changed."""

    ON = "on"
    OFF = "off"


class Called(StrEnum):
    """Whether an utterance begins with the attention words."""

    NOT = "not"
    ONLY = "only"
    """They are all there is: the maker paused after them, or the rest was too faint."""
    YES = "yes"


@dataclass(frozen=True, slots=True)
class Attention:
    """Whether the attention words are needed now."""

    words: str = CHOICES[0]
    when: When = When.AUTO
    on: bool = False
    others_s: tuple[float, ...] = ()
    """When something was heard that was no phrase, since the last phrase."""

    @property
    def needed(self) -> bool:
        """Whether only what follows the words counts."""
        return self.when is When.ALWAYS or (self.when is When.AUTO and self.on)


Step = tuple[Attention, Switch | None]


def other_talk(attention: Attention, now_s: float) -> Step:
    """Something was heard that was no phrase."""
    recent = tuple(at for at in attention.others_s if now_s - at < TALK_WINDOW_S)
    noted = replace(attention, others_s=(*recent, now_s))
    if attention.when is not When.AUTO or attention.on or len(noted.others_s) < TALKS_AT:
        return noted, None
    return replace(noted, on=True), Switch.ON


def phrase_heard(attention: Attention) -> Attention:
    """A phrase was heard: what was heard before it was the maker trying, or is over."""
    return attention if attention.on else replace(attention, others_s=())


def waited(attention: Attention, now_s: float) -> Step:
    """Time passes; the words are not needed any more when the room has been quiet."""
    last = attention.others_s[-1] if attention.others_s else None
    if not attention.on or (last is not None and now_s - last < QUIET_AFTER_S):
        return attention, None
    return replace(attention, on=False, others_s=()), Switch.OFF


def addressed_grammar(words: str, groups: frozenset[Group]) -> grammar.Grammar:
    """The grammar of phrases that follow the attention words.

    And of these words alone, which explain the sound better than any phrase does where the rest was
    lost under other talk.
    """
    plain, lead = grammar_of(groups), grammar.parse(words)
    led = (grammar.Sequence((lead, phrase)) for phrase in plain.phrases)
    return grammar.Grammar((*led, lead), plain.rules, words)


def addressed_opinion(opinion: Opinion) -> Opinion:
    """The opinion of what came with the attention words, which hardly ever come by chance."""
    phrases = sum(found.score for found in opinion.hypotheses)
    total = phrases + max(0.0, 1.0 - phrases) / MEANT
    scored = (Hypothesis(found.words, found.score / total) for found in opinion.hypotheses)
    return replace(opinion, hypotheses=tuple(scored))


def called_by(opinion: Opinion, words: str | None) -> Called:
    """Whether the attention words were heard, in the opinion of an engine that listened for them.

    Without words nobody is called.
    """
    if words is None or sum(found.score for found in opinion.hypotheses) < CALLED_FROM:
        return Called.NOT
    return Called.ONLY if opinion.hypotheses[0].words == words else Called.YES


def addressed_reader(words: str, reader: Reader) -> Reader:
    """Reads what follows the attention words; without them nothing is meant."""

    def read_here(said: str) -> Command | None:
        rest = said.removeprefix(f"{words} ")
        return None if rest == said else reader(rest)

    return read_here


def weakness(words: str) -> str | None:
    """Why words are a poor choice for attention, in one sentence; None when they are a good one."""
    plain = " ".join(re.findall(r"[a-z']+", words.lower()))
    if plain != words or len(words.split()) < 2:
        return "Take two or three plain words: one word alone comes up in talk too often."
    if sum(len(re.findall(r"[aeiouy]+", word)) for word in words.split()) < 4:
        return "Take longer words: short ones come up in talk too often."
    starts = {form.split()[0].strip("[]<>") for phrase in PHRASES for form in phrase.forms}
    if words.split(maxsplit=1)[0] in starts:
        return "Take another first word: that one begins a phrase of mine."
    return None
