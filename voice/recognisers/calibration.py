"""Turns the measurements of an engine into probabilities.

The model: the phrases and "something else was said" compete to explain the sound. An engine gives
each phrase a gap, the natural logarithm of its likelihood less that of the best free run of sounds.
Among phrases only differences of gaps count; whether any phrase was said is told by the best gap,
for itself and for each unit of length, and by the length: short phrases are easily found in other
speech. Where the constants come from stands beside them.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from voice.recognisers.recogniser import Hypothesis

_LEAST = 2e-8
"""A phrase less probable than this is not worth carrying on. Free words after the attention words
are no phrase, yet the nearest one tells that those came first: said by six tuning voices it had
4e-8 and more; without them 20 of 24 had 1e-8 at the most, and the others are phrases too."""
FARTHEST = 30.0
"""Largest size of a logarithm of odds; beyond it doubles say 0 or 1."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """The measurements of an engine in one utterance."""

    gaps: Mapping[str, float]
    """Gap of each phrase: 0 or less but for lucky paths; empty where no phrase fits."""
    length: float
    """Length of the speech without silence, in frames of the engine's own."""


@dataclass(frozen=True, slots=True)
class Calibration:
    """Constants that turn the evidence of one engine into odds."""

    among: float
    """Logarithm of odds between two phrases for one unit of gap."""
    bias: float
    per_length: float
    per_gap: float
    per_density: float
    """Weights of 1, length, best gap and best gap over length, for any phrase against none."""

    def log_odds(self, evidence: Evidence) -> dict[str, float]:
        """Natural logarithm of each phrase's odds against "something else was said"."""
        if not evidence.gaps:
            return {}
        best, length = max(evidence.gaps.values()), max(1.0, evidence.length)
        any_phrase = (
            self.bias
            + self.per_length * length
            + self.per_gap * best
            + self.per_density * best / length
        )
        return {
            words: max(-FARTHEST, min(FARTHEST, any_phrase + self.among * (gap - best)))
            for words, gap in evidence.gaps.items()
        }


def hypotheses(log_odds: Mapping[str, float]) -> tuple[Hypothesis, ...]:
    """Phrases with their probabilities, best first; the rest to 1 is "something else"."""
    weights = {words: math.exp(odds) for words, odds in log_odds.items()}
    total = 1.0 + sum(weights.values())
    scored = [Hypothesis(words, weight / total) for words, weight in weights.items()]
    likely = [hypothesis for hypothesis in scored if hypothesis.score >= _LEAST]
    return tuple(sorted(likely, key=lambda hypothesis: -hypothesis.score))
