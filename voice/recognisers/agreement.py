"""Several engines as one: unlike engines fail differently, so what they agree on is likelier.

Their odds are added up, each with a weight, as if they were witnesses who only partly see the same
thing. Whatever fewer engines confirm than the rule asks for is marked doubtful: to ask about.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from functools import partial
from typing import TypeVar

from pattern.commands import Command
from voice.grammar import Grammar
from voice.phrases import read
from voice.ports import Samples
from voice.ports_hearing import Opinion
from voice.recognisers.calibration import Evidence
from voice.recognisers.engine import Engine, SecondOpinion, Utterance, hissed
from voice.recognisers.fusion import Rule, decided

_T = TypeVar("_T")


class Agreement:
    """A recogniser made of engines; each works in a thread of its own, or all in one, by turns."""

    def __init__(
        self, makers: Sequence[Callable[[], Engine]], rule: Rule, *, by_turns: bool = False
    ) -> None:
        """Make the engines. Raises: EngineMissing."""
        threads = 1 if by_turns else len(makers)
        pools = [ThreadPoolExecutor(1, f"hearing-{n}") for n in range(threads)]
        self._threads = [pools[n % threads] for n in range(len(makers))]
        self._rule = rule
        try:
            self.engines = self._each(makers)
        except BaseException:
            self.close()
            raise
        self.calibrations = {engine.name: engine.calibration for engine in self.engines}
        self._utterance = Utterance(self.name)
        self._bare: Callable[[str], str] = str

    def _each(self, tasks: Sequence[Callable[[], _T]]) -> list[_T]:
        """Run one task for each engine, in its thread."""
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

    def listen(self, samples: Samples) -> dict[str, Evidence]:
        """What each engine measured in an utterance, by its name, each for the phrases of all."""
        sound = hissed(samples)
        found = self._each([partial(engine.decode, sound) for engine in self.engines])
        return dict(zip(self.calibrations, self._completed(found), strict=True))

    def opinion(self, evidence: Mapping[str, Evidence]) -> Opinion:
        """What follows from the evidence."""
        odds = {name: self.calibrations[name].log_odds(each) for name, each in evidence.items()}
        return decided(odds, self._rule, self._bare)

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
