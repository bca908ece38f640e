"""What a recogniser is: blocks of sound in, words so far and whole phrases out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from voice.grammar import Grammar
from voice.ports import Samples


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """One whole phrase that may have been said."""

    words: str
    score: float
    """Probability 0..1 that exactly this was said, if all phrases were equally likely before."""


@dataclass(frozen=True, slots=True)
class Opinion:
    """What a recogniser made of one utterance; no hypotheses when it was no phrase."""

    hypotheses: tuple[Hypothesis, ...]
    """Best first, no two of the same words; what the scores lack to 1 is "no phrase"."""
    engine: str
    seconds: float
    """How long the decision took after the last sample was given."""
    doubtful: bool = False
    """Set when the engines did not confirm each other: ask, do not act."""


class Recogniser(Protocol):
    """Hears one utterance at a time; not to be used from two threads at once."""

    @property
    def name(self) -> str:
        """What it is called in settings."""

    def set_grammar(self, grammar: Grammar) -> None:
        """Take what may be said from the next utterance on.

        Raises: BadGrammar when the engine cannot hear a word of it; UtteranceOpen in mid-utterance.
        """

    def feed(self, block: Samples) -> str | None:
        """Take the next samples, int16 at 16 kHz; words so far from an engine that streams.

        Raises: NoGrammar.
        """

    def finish(self) -> Opinion:
        """End the utterance and say what it was. Raises: NoGrammar."""

    def close(self) -> None:
        """Let go of models and threads; nothing may be fed after that."""
