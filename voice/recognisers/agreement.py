"""Several engines as one: unlike engines fail differently, so what they agree on is likelier.

Their odds are added up, each with a weight, as if they were witnesses who only partly see the same
thing. Whatever fewer engines confirm than the rule asks for is marked doubtful: to ask about.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from functools import partial
from typing import TypeVar

from pattern.commands import Command
from voice.grammar import Grammar
from voice.phrases import read
from voice.ports import Samples
from voice.ports_hearing import Hypothesis, Opinion
from voice.recognisers.calibration import Evidence, hypotheses
from voice.recognisers.engine import Engine, SecondOpinion, Utterance, hissed

_T = TypeVar("_T")


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
    backed: float = -4.0
    """An engine confirms a command whose log odds are this near those of its favourite, or nearer:
    below 0."""


class Agreement:
    """A recogniser made of engines; each works in a thread of its own."""

    def __init__(self, makers: Sequence[Callable[[], Engine]], rule: Rule) -> None:
        """Make the engines. Raises: EngineMissing."""
        self._threads = [ThreadPoolExecutor(1, f"hearing-{n}") for n in range(len(makers))]
        self._rule = rule
        try:
            self.engines = self._each(makers)
        except BaseException:
            self.close()
            raise
        self._utterance = Utterance(self.name)
        self._bare: Callable[[str], str] = str

    def _each(self, tasks: Sequence[Callable[[], _T]]) -> list[_T]:
        """Run one task for each engine, in its own thread, all at once."""
        futures = [thread.submit(task) for thread, task in zip(self._threads, tasks, strict=True)]
        return [future.result() for future in futures]

    @property
    def name(self) -> str:
        """The names of the engines."""
        return "+".join(engine.name for engine in self.engines)

    def set_grammar(self, grammar: Grammar) -> None:
        """Take what may be said. Raises: BadGrammar when one engine cannot; UtteranceOpen."""
        self._utterance.allow()
        self._each([partial(engine.set_grammar, grammar) for engine in self.engines])
        self._bare = grammar.bare
        self._utterance.open()

    def feed(self, block: Samples) -> str | None:
        """Keep the block; there are no words before the end. Raises: NoGrammar."""
        self._utterance.add(block)
        return None

    def finish(self) -> Opinion:
        """End the utterance and say what it was, in the opinion of all. Raises: NoGrammar."""
        began = time.perf_counter()
        if (samples := self._utterance.take()) is None:
            return Opinion((), self.name, 0.0)
        evidence = self.listen(samples)
        odds = {e.name: e.calibration.log_odds(evidence[e.name]) for e in self.engines}
        return replace(decided(odds, self._rule, self._bare), seconds=time.perf_counter() - began)

    def listen(self, samples: Samples) -> dict[str, Evidence]:
        """What each engine measured in an utterance, by its name, each for the phrases of all."""
        sound = hissed(samples)
        found = self._each([partial(engine.decode, sound) for engine in self.engines])
        names = [engine.name for engine in self.engines]
        return dict(zip(names, self._completed(found), strict=True))

    def _completed(self, found: Sequence[Evidence]) -> list[Evidence]:
        """The evidence with what engines say of phrases that only others heard.

        Engines with the same favourite are not asked: on tuning voices that changed no decision,
        and the second search takes about a seventh of the time that a reading does.
        """
        if len({_favourite(evidence, self._bare) for evidence in found}) == 1:
            return list(found)
        phrases = sorted(set().union(*(evidence.gaps for evidence in found)))
        return self._each([
            partial(_judged, engine, evidence, [w for w in phrases if w not in evidence.gaps])
            for engine, evidence in zip(self.engines, found, strict=True)
        ])  # fmt: skip

    def close(self) -> None:
        """End the threads."""
        for thread in self._threads:
            thread.shutdown()


def _favourite(evidence: Evidence, bare: Callable[[str], str]) -> Command | None:
    """The command of the likeliest phrase."""
    gaps = evidence.gaps
    return read(bare(max(gaps, key=lambda words: gaps[words]))) if gaps else None


def _judged(engine: Engine, evidence: Evidence, missing: Sequence[str]) -> Evidence:
    if not missing or not isinstance(engine, SecondOpinion):
        return evidence
    return replace(evidence, gaps={**engine.judge(missing), **evidence.gaps})


def decided(
    odds: Mapping[str, Mapping[str, float]], rule: Rule, bare: Callable[[str], str] = str
) -> Opinion:
    """What engines think together: by engine and phrase, the logarithm of its odds.

    `bare` takes from a phrase the words that are no part of what it means.
    """
    found, backers = joint(odds, rule), 0
    if found:
        backers = sum(_backs(opinion, found[0].words, rule, bare) for opinion in odds.values())
    best = [max(of, key=lambda words: of[words]) for of in odds.values() if of]
    agreed = len({_meaning(bare(words)) for words in best}) == 1 and all(odds.values())
    return Opinion(found, "+".join(odds), 0.0, backers < rule.needed, agreed)


def joint(odds: Mapping[str, Mapping[str, float]], rule: Rule) -> tuple[Hypothesis, ...]:
    """All phrases of all engines with the probabilities that follow from all."""
    phrases = sorted(set().union(*odds.values()))
    return hypotheses({words: _joint(words, odds, rule) for words in phrases})


def _joint(words: str, odds: Mapping[str, Mapping[str, float]], rule: Rule) -> float:
    return rule.bias + sum(
        rule.weights.get(engine, 1.0) * opinion.get(words, _unheard(opinion, rule))
        for engine, opinion in odds.items()
    )


def _unheard(opinion: Mapping[str, float], rule: Rule) -> float:
    return min(opinion.values(), default=0.0) - rule.absent


def _backs(
    opinion: Mapping[str, float], words: str, rule: Rule, bare: Callable[[str], str]
) -> bool:
    meant = _meaning(bare(words))
    mine = [odds for other, odds in opinion.items() if _meaning(bare(other)) == meant]
    return bool(mine) and max(mine) >= max(opinion.values()) + rule.backed


def _meaning(words: str) -> Command | str:
    """What engines must agree on: the command, or the words where they are more than a phrase."""
    return read(words) or words
