"""How the odds of several engines add up, and what they confirm together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from pattern.commands import Command
from voice.phrases import read
from voice.ports_hearing import Hypothesis, Opinion
from voice.recognisers.calibration import hypotheses


@dataclass(frozen=True, slots=True)
class Rule:
    """How engines decide together."""

    needed: int
    """Engines that must confirm a command, or it is doubtful."""
    weights: Mapping[str, float]
    """By engine, how much its odds count; 1 for one not named."""
    bias: float = 0.0
    """Added to the logarithm of the odds of every phrase."""
    absent: float = 4.0
    """How far below its worst phrase an engine is taken to put one that it did not find."""
    favoured: float = 0.0
    """Added to those of a phrase that so many engines as are needed put first."""
    backed: float = -4.0
    """An engine confirms a command whose log odds are this near those of its favourite, or nearer:
    below 0."""


def decided(
    odds: Mapping[str, Mapping[str, float]], rule: Rule, bare: Callable[[str], str] = str
) -> Opinion:
    """What engines think together: by engine and phrase, the logarithm of its odds.

    `bare` takes from a phrase the words that are no part of what it means.
    """
    found = joint(odds, rule)
    if not found:
        return Opinion((), "+".join(odds), 0.0, doubtful=True)
    backers = sum(_backs(of, found[0].words, rule.backed, bare) for of in odds.values())
    return Opinion(found, "+".join(odds), 0.0, backers < rule.needed)


def joint(odds: Mapping[str, Mapping[str, float]], rule: Rule) -> tuple[Hypothesis, ...]:
    """All phrases of all engines with the probabilities that follow from all."""
    votes = Counter(max(mine, key=lambda words: mine[words]) for mine in odds.values() if mine)
    phrases = sorted(set().union(*odds.values()))
    return hypotheses({
        words: _joint(words, odds, rule) + rule.favoured * (votes[words] >= rule.needed)
        for words in phrases
    })  # fmt: skip


def _joint(words: str, odds: Mapping[str, Mapping[str, float]], rule: Rule) -> float:
    return rule.bias + sum(
        rule.weights.get(engine, 1.0) * opinion.get(words, _unheard(opinion, rule))
        for engine, opinion in odds.items()
    )


def _unheard(opinion: Mapping[str, float], rule: Rule) -> float:
    return min(opinion.values(), default=0.0) - rule.absent


def _backs(
    opinion: Mapping[str, float], words: str, within: float, bare: Callable[[str], str]
) -> bool:
    meant = _meaning(bare(words))
    mine = [odds for other, odds in opinion.items() if _meaning(bare(other)) == meant]
    return bool(mine) and max(mine) >= max(opinion.values()) + within


def _meaning(words: str) -> Command | str:
    """What engines must agree on: the command, or the words where they are more than a phrase."""
    return read(words) or words
