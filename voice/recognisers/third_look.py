"""vosk beside the net: its scores are not fitted, so it may only turn doing into asking."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from voice.recognisers.recogniser import Hypothesis, Opinion, Recogniser
from voice.recognisers.vosk import Vosk
from voice.sound.ports import Samples
from voice.words.grammar import Grammar
from voice.words.phrases import Group, grammar_of


class ThirdLook:
    """A recogniser, with vosk to confirm commands that would change the piece."""

    def __init__(self, first: Recogniser, vosk: Vosk) -> None:
        """Join them. Raises: BadGrammar where vosk's model is of another language."""
        vosk.hear(np.zeros(0, np.int16), grammar_of(frozenset(Group)))
        self._first, self._vosk = first, vosk

    @property
    def name(self) -> str:
        """The names of both."""
        return f"{self._first.name}+{self._vosk.name}"

    def hear(self, samples: Samples, grammar: Grammar) -> Opinion:
        """The opinion of the first recogniser, with what vosk confirms. Raises: BadGrammar."""
        opinion = self._first.hear(samples, grammar)
        phrases = tuple(found.words for found in opinion.hypotheses)
        confirmed = self._vosk.confirmed(samples, grammar, phrases)
        return replace(opinion, engine=self.name, confirmed=confirmed)

    def write(self, samples: Samples) -> tuple[Hypothesis, ...]:
        """The text that the first recogniser writes."""
        return self._first.write(samples)
