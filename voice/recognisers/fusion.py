"""Adds up the odds of several looks at one utterance."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from pattern.session.commands import Command
from voice.recognisers.calibration import hypotheses
from voice.recognisers.recogniser import Hypothesis, Opinion
from voice.words.phrases import read


@dataclass(frozen=True, slots=True)
class Rule:
    """Constants of a joint decision; a look that is not named in `weights` counts once."""

    weights: Mapping[str, float]
    """Weight of the odds of each look."""
    bias: float = 0.0
    """Added to the logarithm of the odds of every phrase."""
    absent: float = 4.0
    """Distance below its worst phrase at which a look is taken to put one that it did not find."""
    favoured: float = 0.0
    """Added to the logarithm of the odds of a phrase that a look puts first."""
    backed: float = -4.0
    """Lowest log odds, less those of its favourite, of a command that a look still confirms; a
    command that no look confirms is doubtful."""


def decided(
    odds: Mapping[str, Mapping[str, float]], rule: Rule, bare: Callable[[str], str] = str
) -> Opinion:
    """The joint opinion of looks; `odds` are logarithms, by look and phrase.

    `bare` takes from a phrase the words that are no part of what it means.
    """
    found = joint(odds, rule)
    if not found:
        return Opinion((), "+".join(odds), doubtful=True)
    backed = any(_backs(of, found[0].words, rule.backed, bare) for of in odds.values())
    return Opinion(found, "+".join(odds), doubtful=not backed)


def joint(odds: Mapping[str, Mapping[str, float]], rule: Rule) -> tuple[Hypothesis, ...]:
    """Every phrase of any look with its joint probability."""
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
    """The meaning to agree on: a command, or the words where they are more than a phrase."""
    return read(words) or words
