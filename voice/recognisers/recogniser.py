"""The interface of a recogniser: the sound of one utterance in, whole phrases out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from voice.sound.ports import Samples
from voice.words.grammar import Grammar


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """One whole phrase that may have been said."""

    words: str
    score: float
    """Probability 0..1 that exactly this was said, if all phrases were equally likely before."""


@dataclass(frozen=True, slots=True)
class Opinion:
    """A recogniser's reading of one utterance; no hypotheses when it was no phrase."""

    hypotheses: tuple[Hypothesis, ...]
    """Best first, no two of the same words; the rest of the scores to 1 is for "no phrase"."""
    engine: str
    doubtful: bool = False
    """True when no look at the sound confirmed the likeliest phrase: ask, do not act."""
    confirmed: tuple[str, ...] | None = None
    """Phrases that alone may change the piece unasked; None where every phrase may."""


class Recogniser(Protocol):
    """Hears one utterance at a time, and keeps nothing of it."""

    @property
    def name(self) -> str:
        """Name of the recogniser in settings."""

    def hear(self, samples: Samples, grammar: Grammar) -> Opinion:
        """The likeliest phrases of the grammar for an utterance: int16 at 16 kHz, cut out whole.

        Raises: BadGrammar when its words cannot be heard, or there are none.
        """

    def write(self, samples: Samples) -> tuple[Hypothesis, ...]:
        """An utterance in free English: some likeliest texts, the likeliest first.

        None where it cannot write freely.
        """
