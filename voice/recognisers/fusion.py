"""How the odds of several looks at one utterance add up."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from pattern.session.commands import Command
from voice.recognisers.calibration import hypotheses
from voice.recognisers.recogniser import Hypothesis, Opinion
from voice.words.phrases import read


@dataclass(frozen=True, slots=True)
class Rule:
    """How looks decide together; one that is not named in `weights` counts once."""

    weights: Mapping[str, float]
    """By look, how much its odds count."""
    bias: float = 0.0
    """Added to the logarithm of the odds of every phrase."""
    absent: float = 4.0
    """How far below its worst phrase a look is taken to put one that it did not find."""
    favoured: float = 0.0
    """Added to those of a phrase that a look puts first."""
    backed: float = -4.0
    """A look confirms a command whose log odds are this near those of its favourite, or nearer:
    below 0. What none confirms is doubtful."""


def decided(
    odds: Mapping[str, Mapping[str, float]], rule: Rule, bare: Callable[[str], str] = str
) -> Opinion:
    """What looks tell together: by look and phrase, the logarithm of its odds.

    `bare` takes from a phrase the words that are no part of what it means.
    """
    found = joint(odds, rule)
    if not found:
        return Opinion((), "+".join(odds), doubtful=True)
    backed = any(_backs(of, found[0].words, rule.backed, bare) for of in odds.values())
    return Opinion(found, "+".join(odds), doubtful=not backed)


def joint(odds: Mapping[str, Mapping[str, float]], rule: Rule) -> tuple[Hypothesis, ...]:
    """All phrases of all looks with the probabilities that follow from all."""
    first = {max(mine, key=lambda words: mine[words]) for mine in odds.values() if mine}
    phrases = sorted(set().union(*odds.values()))
    return hypotheses(
        {words: _joint(words, odds, rule) + rule.favoured * (words in first) for words in phrases}
    )


def _joint(words: str, odds: Mapping[str, Mapping[str, float]], rule: Rule) -> float:
    return rule.bias + sum(
        rule.weights.get(look, 1.0) * opinion.get(words, _unheard(opinion, rule))
        for look, opinion in odds.items()
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
    """What looks must agree on: the command, or the words where they are more than a phrase."""
    return read(words) or words
