"""Addressed mode: while the room talks, only what follows the attention words counts.

It switches itself on when much is heard that is no phrase, and off when the room has been quiet,
and says so each time. Pure, as the turns are.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from pattern.errors import RoundsAloudError
from voice.recognisers.recogniser import Hypothesis, Opinion
from voice.words import grammar
from voice.words.attention_words import CHOICES
from voice.words.phrases import Group, grammar_of

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

CLEAR_AFTER_CALL = 0.6
"""So probable amid talk, what follows the attention words is clear. Of 0 (what the session expects
may be taken then, and not only what is heard first), 0.5, 0.6, 0.7 and 0.8 taken after a look at
tuning voices: of 120 phrases over talk 5 dB weaker 93, 89, 87, 86 and 83 are right and 8, 6, 5, 4
and 2 taken for another; over talk 10 dB weaker 117, 117, 117, 116 and 116, and one."""


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
    """News about the attention words."""

    ON = "on"
    OFF = "off"
    LEFT_OUT = "left out"
    """A phrase came without them while they are needed."""


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

    def others(self, now_s: float) -> int:
        """How many utterances that were no phrase came within the window, since the last phrase."""
        return sum(now_s - at_s < TALK_WINDOW_S for at_s in self.others_s)


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


def grammar_with(attention: Attention, groups: frozenset[Group]) -> grammar.Grammar:
    """The grammar of phrases that may follow the attention words, and must while they are needed.

    And of these words alone, which explain the sound better than any phrase does where the rest was
    lost under other talk, or is still to come.
    """
    plain, lead = grammar_of(groups), grammar.parse(attention.words)
    led = (grammar.Sequence((lead, grammar.Choice(plain.phrases))), lead)
    phrases = led if attention.needed else (*plain.phrases, *led)
    return grammar.Grammar(phrases, plain.rules, attention.words)


def called_by(opinion: Opinion, attention: Attention) -> Called:
    """Whether the attention words were heard, in the opinion of an engine that listened for them.

    They count without what follows them, as that is what is in doubt.
    """
    led = [found for found in opinion.hypotheses if _led(found, attention)]
    if sum(found.score for found in led) < CALLED_FROM:
        return Called.NOT
    return Called.ONLY if led[0].words == attention.words else Called.YES


def meant(opinion: Opinion, attention: Attention) -> Opinion:
    """The opinion on what was said, without the attention words.

    While these are needed nothing is meant without them; and as they hardly ever come by chance,
    what follows them is likelier meant.
    """
    scores: dict[str, float] = {}
    for found in opinion.hypotheses:
        if _led(found, attention) or not attention.needed:
            words = found.words.removeprefix(f"{attention.words} ")
            scores[words] = scores.get(words, 0.0) + found.score
    phrases = sum(scores.values())
    none = max(0.0, 1.0 - phrases) / (MEANT if attention.needed else 1.0)
    likely = sorted(scores, key=lambda words: -scores[words])
    total = max(phrases + none, 1e-9)
    hypotheses = tuple(Hypothesis(words, scores[words] / total) for words in likely)
    confirmed = opinion.confirmed
    if confirmed is not None:
        confirmed = tuple(words.removeprefix(f"{attention.words} ") for words in confirmed)
    return replace(opinion, hypotheses=hypotheses, confirmed=confirmed)


def _led(found: Hypothesis, attention: Attention) -> bool:
    return f"{found.words} ".startswith(f"{attention.words} ")


def weakness(words: str) -> str | None:
    """Why words are a poor choice for attention, in one sentence; None when they are a good one."""
    plain = " ".join(re.findall(r"[a-z']+", words.lower()))
    if plain != words or len(words.split()) < 2:
        return "Take two or three plain words: one word alone comes up in talk too often."
    if sum(len(re.findall(r"[aeiouy]+", word)) for word in words.split()) < 4:
        return "Take longer words: short ones come up in talk too often."
    if words.split(maxsplit=1)[0] in grammar_of(frozenset(Group)).first_words():
        return "Take another first word: that one begins a phrase of mine."
    return None
