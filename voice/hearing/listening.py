"""From the sound of utterances to the evidence about them, and to the verdicts."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from itertools import islice

from voice.hearing.attention import Attention, Called, called_by, grammar_with
from voice.hearing.evidence import Context, Evidence, Expectation, Reader, Verdict, flat
from voice.hearing.expectation import LIKELIER_THAN_NOT
from voice.hearing.utterance_part import Part
from voice.hearing.verdict import verdict
from voice.recognisers.net.word_graph import word_graph
from voice.recognisers.recogniser import Opinion, Recogniser
from voice.sound.endpoint import Segment
from voice.sound.ports import Samples
from voice.words.grammar import Grammar
from voice.words.phrases import Group, grammar_of, read

_MOST_ENDS = 1000
"""No phrase has as many ends that leave it what it means."""
_SAME_S = 0.05
"""Utterances that begin no further apart are one."""


class Hearing:
    """Listens to whole utterances with a recogniser; not for two threads at once."""

    def __init__(self, recogniser: Recogniser) -> None:
        """Start with no grammar: it comes with each utterance."""
        self._recogniser = recogniser
        self._grammar = Grammar((), {})
        self._graph = word_graph(self._grammar)
        self._listening_for: tuple[frozenset[Group], tuple[str, bool] | None] | None = None

    @property
    def name(self) -> str:
        """The engines that listen."""
        return self._recogniser.name

    def listen(
        self,
        samples: Samples,
        context: Context,
        part: Part = Part.WHOLE,
        *,
        amid_talk: bool = False,
    ) -> Evidence:
        """The evidence on an utterance, cut out whole: int16 at 16 kHz.

        Where attention words came to be needed by themselves, nobody talks, and they are missing,
        it is listened to without them as well.

        Raises: BadGrammar when the recogniser cannot hear the phrases of the context.
        """
        began = time.perf_counter()
        attention, groups = context.attention, context.groups
        words = (attention.words, attention.needed) if attention else None
        if (groups, words) != self._listening_for:
            self._grammar = grammar_with(attention, groups) if attention else grammar_of(groups)
            self._graph = word_graph(self._grammar)
            self._listening_for = groups, words
        opinion = self._recogniser.hear(samples, self._grammar)
        unfinished = self._unfinished(opinion, context.reader)
        seconds = time.perf_counter() - began
        without_call = None
        missing = attention is not None and called_by(opinion, attention) is Called.NOT
        if attention and attention.on and missing and not amid_talk:
            without_call = self._recogniser.hear(samples, grammar_of(groups))
        return Evidence(opinion, part, amid_talk, unfinished, without_call, seconds=seconds)

    def written(self, samples: Samples, evidence: Evidence) -> Evidence:
        """The evidence with what the utterance may be in free English."""
        began = time.perf_counter()
        texts = self._recogniser.write(samples)
        seconds = evidence.seconds + time.perf_counter() - began
        return replace(evidence, texts=texts, seconds=seconds)

    def decide(
        self,
        samples: Samples,
        expectation: Expectation = flat,
        groups: frozenset[Group] = frozenset(Group),
        reader: Reader = read,
        attention: Attention | None = None,
        *,
        wary: bool = False,
    ) -> Verdict:
        """The verdict on an utterance of which nothing else is known; `wary` while others talk.

        Raises: BadGrammar, as `listen` does.
        """
        context = Context(expectation, groups, reader, attention)
        return verdict(self.listen(samples, context, amid_talk=wary), context)

    def _unfinished(self, opinion: Opinion, reader: Reader) -> bool:
        """Whether the likeliest words would mean something else if some more followed."""
        found = next(iter(opinion.hypotheses), None)
        if found is None or found.score < LIKELIER_THAN_NOT:
            return False
        words, following = self._grammar.bare(found.words), self._graph.following(found.words)
        if (meaning := reader(words)) is None:  # the attention words alone
            return any(following)
        return any(reader(f"{words} {more}") != meaning for more in islice(following, _MOST_ENDS))


class Whole:
    """Hears utterances out: remembers the verdict on one when more of it is waited for."""

    def __init__(self) -> None:
        """Nothing is waited for yet."""
        self._begun: tuple[float, Verdict] | None = None

    def heard(
        self,
        segment: Segment,
        evidence: Evidence,
        context: Context,
        write: Callable[[Samples, Evidence], Evidence] | None = None,
    ) -> Verdict:
        """The verdict on an utterance with what went before it; it is whole where `more_s` is 0.

        Where it wants the text, `write` finds it.
        """
        same = self._begun is not None and abs(segment.start_s - self._begun[0]) < _SAME_S
        before = self._begun[1] if self._begun is not None and same else None
        evidence = replace(evidence, before=before, waited=segment.waited)
        found = verdict(evidence, context)
        if found.wants_text and write is not None:
            found = verdict(write(segment.samples, evidence), context)
        self._begun = (segment.start_s, found) if found.more_s else None
        return found
