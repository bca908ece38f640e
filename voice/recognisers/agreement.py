"""Joins several looks at one utterance into one recogniser.

Unlike looks fail differently, so a phrase that they agree on is likelier. Their log odds are added
up, each with a weight, as if they were witnesses who only partly see the same thing. A phrase that
none of them confirms is marked doubtful: it must be asked about.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from pattern.session.commands import Command
from voice.recognisers.calibration import Evidence
from voice.recognisers.engine import hissed, may_be_a_phrase
from voice.recognisers.fusion import Rule, decided
from voice.recognisers.net.letters import Letters
from voice.recognisers.net.moonshine import Moonshine
from voice.recognisers.recogniser import Hypothesis, Opinion
from voice.sound.ports import Samples
from voice.words.grammar import Grammar
from voice.words.phrases import read

Look = Moonshine | Letters
WORTH_JUDGING = 0.05
"""So probable in all, phrases are judged by every look: half of what is asked about at the least.
Of 211 free wordings and sentences for others by tuning voices 138 are not judged then, which takes
28 % off the time of listening, and of none another thing comes; with 0.2 of one."""


class Agreement:
    """A recogniser made of looks, which search one after the other.

    Searching at the same time would need a tenth more memory, and no look can begin before the
    sound has been heard, which they share (`python -m tests.bench load`).
    """

    def __init__(self, looks: Sequence[Look], rule: Rule) -> None:
        """Take looks, each of another kind."""
        self.looks = tuple(looks)
        self._rule = rule
        self._last: tuple[Samples, Samples] | None = None
        self.calibrations = {look.name: look.calibration for look in looks}

    @property
    def name(self) -> str:
        """The names of the looks."""
        return "+".join(self.calibrations)

    def hear(self, samples: Samples, grammar: Grammar) -> Opinion:
        """The joint opinion of all looks on an utterance. Raises: BadGrammar."""
        if not may_be_a_phrase(samples):
            return Opinion((), self.name)
        return self.opinion(self.listen(samples, grammar), grammar.bare)

    def write(self, samples: Samples) -> tuple[Hypothesis, ...]:
        """The utterance as text, from the look that writes, where there is one."""
        writer = next((look for look in self.looks if isinstance(look, Moonshine)), None)
        if writer is None or not may_be_a_phrase(samples):
            return ()
        again = self._last is not None and self._last[0] is samples
        return writer.write(self._last[1] if self._last and again else hissed(samples))

    def listen(self, samples: Samples, grammar: Grammar) -> dict[str, Evidence]:
        """The evidence of each look, by its name; each judges the phrases that any of them found.

        Raises: BadGrammar.
        """
        sound = hissed(samples)
        self._last = samples, sound  # the net does not hear the same array twice
        found = [look.decode(sound, grammar) for look in self.looks]
        return dict(zip(self.calibrations, self._completed(found, grammar.bare), strict=True))

    def opinion(
        self, evidence: Mapping[str, Evidence], bare: Callable[[str], str] = str
    ) -> Opinion:
        """The opinion that follows from the evidence; `bare` is as in `decided`."""
        odds = {name: self.calibrations[name].log_odds(each) for name, each in evidence.items()}
        return decided(odds, self._rule, bare)

    def _may_hold_a_phrase(self, found: Sequence[Evidence]) -> bool:
        """Whether some phrase would be likely if every look thought as well of it as of its own
        favourite.
        """
        phrases = set[str]().union(*(evidence.gaps for evidence in found))
        names = tuple(self.calibrations)
        at_best = {
            name: _at_best(evidence, phrases) for name, evidence in zip(names, found, strict=True)
        }
        return sum(each.score for each in self.opinion(at_best).hypotheses) >= WORTH_JUDGING

    def _completed(
        self, found: Sequence[Evidence], bare: Callable[[str], str]
    ) -> Sequence[Evidence]:
        """The evidence, completed with each look's judgement of phrases that only others found.

        Looks with the same favourite are not asked: on tuning voices that changed no decision,
        and the second search takes about a seventh of the time that a reading does. Nor are they
        where no answer of theirs could make any phrase likely: most free wording is such.
        """
        if len({_favourite(evidence, bare) for evidence in found}) == 1:
            return found
        if not self._may_hold_a_phrase(found):
            return found
        phrases = sorted(set().union(*(evidence.gaps for evidence in found)))
        return [
            replace(
                evidence,
                gaps={
                    **look.judge([w for w in phrases if w not in evidence.gaps]),
                    **evidence.gaps,
                },
            )
            for look, evidence in zip(self.looks, found, strict=True)
        ]


def _at_best(evidence: Evidence, phrases: set[str]) -> Evidence:
    """The evidence, were every phrase that was not found as likely as the favourite."""
    best = max(evidence.gaps.values(), default=0.0)
    return replace(evidence, gaps={**dict.fromkeys(phrases, best), **evidence.gaps})


def _favourite(evidence: Evidence, bare: Callable[[str], str]) -> Command | None:
    """The command of the likeliest phrase."""
    gaps = evidence.gaps
    return read(bare(max(gaps, key=lambda words: gaps[words]))) if gaps else None
