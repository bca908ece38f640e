"""Several engines as one: unlike engines fail differently, so what they agree on is likelier.

Their odds are added up, each with a weight, as if they were witnesses who only partly see the same
thing. Whatever fewer engines confirm than the rule asks for is marked doubtful: to ask about. Where
they are not sure, a slower engine may be asked about what they heard.
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
from voice.ports_hearing import Opinion
from voice.recognisers.calibration import Evidence
from voice.recognisers.engine import Engine, Referee, SecondOpinion, Utterance, hissed
from voice.recognisers.fusion import Rule, decided

_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Appeal:
    """When a referee is asked, and how its word counts."""

    maker: Callable[[], Referee]
    rule: Rule
    """For all engines and the referee."""
    sure: float = 0.95
    """Not when a phrase is so probable. Of 0.9, 0.95 and 0.99 taken after a look at 288 phrases of
    tuning voices: right were 94.8, 95.8 and 96.2 %, and it was asked about 65, 80 and 128."""
    hopeless: float = 0.1
    """Nor when nothing is so probable: then it is talk, or lost. Of 0.002, 0.02 and 0.1 taken after
    a look at tuning voices: as many are right, and it is asked less often about talk."""


class Agreement:
    """A recogniser made of engines; each works in a thread of its own."""

    def __init__(
        self, makers: Sequence[Callable[[], Engine]], rule: Rule, appeal: Appeal | None = None
    ) -> None:
        """Make the engines, and the referee where there is to be one. Raises: EngineMissing."""
        self._threads = [ThreadPoolExecutor(1, f"hearing-{n}") for n in range(len(makers))]
        self._rule, self._appeal = rule, appeal
        try:
            self.engines = self._each(makers)
            self.referee = appeal.maker() if appeal else None
        except BaseException:
            self.close()
            raise
        self.calibrations = {engine.name: engine.calibration for engine in self.engines}
        if self.referee:
            self.calibrations[self.referee.name] = self.referee.calibration
        self._utterance = Utterance(self.name)
        self._bare: Callable[[str], str] = str

    def _each(self, tasks: Sequence[Callable[[], _T]]) -> list[_T]:
        """Run one task for each engine, in its own thread, all at once."""
        futures = [thread.submit(task) for thread, task in zip(self._threads, tasks, strict=True)]
        return [future.result() for future in futures]

    @property
    def name(self) -> str:
        """The names of the engines."""
        return "+".join(self.calibrations)

    def set_grammar(self, grammar: Grammar) -> None:
        """Take what may be said. Raises: BadGrammar when one of them cannot; UtteranceOpen."""
        self._utterance.allow()
        self._each([partial(engine.set_grammar, grammar) for engine in self.engines])
        if self.referee:
            self.referee.learn(sorted(grammar.words()))
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
        opinion = self.opinion(self.listen(samples))
        return replace(opinion, seconds=time.perf_counter() - began)

    def listen(self, samples: Samples, *, to_all: bool = False) -> dict[str, Evidence]:
        """What each engine measured in an utterance, by its name, each for the phrases of all.

        With that of the referee, if the others left it to it, or if it is `to_all`.
        """
        sound = hissed(samples)
        found = self._each([partial(engine.decode, sound) for engine in self.engines])
        names = [engine.name for engine in self.engines]
        evidence = dict(zip(names, self._completed(found), strict=True))
        phrases = sorted(set().union(*(each.gaps for each in evidence.values())))
        if self.referee and phrases and (to_all or self.undecided(evidence)):
            evidence[self.referee.name] = self.referee.weigh(sound, phrases)
        return evidence

    def undecided(self, evidence: Mapping[str, Evidence]) -> bool:
        """Whether it takes the referee, by what the others measured."""
        if self._appeal is None:
            return False
        opinion = self.opinion(evidence)
        best = opinion.hypotheses[0].score if opinion.hypotheses else 0.0
        return self._appeal.hopeless <= best < self._appeal.sure

    def opinion(self, evidence: Mapping[str, Evidence]) -> Opinion:
        """What follows from the evidence."""
        odds = {name: calibration.log_odds(evidence[name])
                for name, calibration in self.calibrations.items() if name in evidence}  # fmt: skip
        rule = self._rule
        if self._appeal and self.referee and self.referee.name in evidence:
            rule = self._appeal.rule
        return decided(odds, rule, self._bare)

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
