"""From the sound of one utterance to what to do about it."""

from __future__ import annotations

import time
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import islice

from pattern.session.commands import Command
from voice.hearing.attention import (
    CLEAR_AFTER_CALL,
    Attention,
    Called,
    called_by,
    grammar_with,
    meant,
)
from voice.hearing.expectation import (
    LIKELIER_THAN_NOT,
    Act,
    AskWhich,
    Expectation,
    Reader,
    Silent,
    choose,
    clear_amid_talk,
    flat,
)
from voice.recognisers.net.word_graph import word_graph
from voice.recognisers.recogniser import Hypothesis, Opinion, Recogniser
from voice.sound.ports import Samples
from voice.words.grammar import Grammar
from voice.words.phrases import Group, grammar_of, read

_MOST_ENDS = 1000
"""No phrase has as many ends that leave it what it means."""


class Action(StrEnum):
    """What hearing something leads to."""

    ACT = "act"
    ASK = "ask"
    SILENT = "silent"


@dataclass(frozen=True, slots=True)
class Heard:
    """What was made of one utterance."""

    text: str
    """The words taken, or asked about first; empty when silent."""
    command: Command | None
    action: Action
    score: float
    """Probability 0..1 of the words before the session's expectation."""
    alternatives: tuple[Hypothesis, ...]
    """All that may have been said, likeliest first; to ask: the one or two to choose from."""
    engine: str
    seconds: float
    """From the last sample to here."""
    candidates: tuple[Command, ...] = ()
    """To ask: the commands to choose from, those of `alternatives`."""
    called: Called = Called.NOT
    """Whether the attention words were heard."""
    unfinished: bool = False
    """Whether the likeliest words may be the beginning of something else."""
    left_out: bool = False
    """Whether it is a clear phrase without the attention words, though they are needed."""


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

    def decide(
        self,
        samples: Samples,
        expectation: Expectation = flat,
        groups: frozenset[Group] = frozenset(Group),
        reader: Reader = read,
        attention: Attention | None = None,
        *,
        wary: bool = False,
    ) -> Heard:
        """What to do about an utterance, cut out whole: int16 at 16 kHz.

        `attention` tells the words that may come first, and whether they must. `wary`, while others
        talk, only what is clear is done; where the words must come first that is so unless they
        clearly did, and where they did, less is clear enough: it is meant for the program. Where
        they came to be needed by themselves, and nobody talks, it is noticed that they were left
        out.

        Raises: BadGrammar when the recogniser cannot hear the phrases of these groups.
        """
        began = time.perf_counter()
        words = (attention.words, attention.needed) if attention else None
        if (groups, words) != self._listening_for:
            self._grammar = grammar_with(attention, groups) if attention else grammar_of(groups)
            self._graph = word_graph(self._grammar)
            self._listening_for = groups, words
        opinion = self._recogniser.hear(samples, self._grammar)
        called, unfinished, amid = Called.NOT, self._unfinished(opinion, reader), wary
        if attention:
            called, opinion = called_by(opinion, attention), meant(opinion, attention)
            wary = wary or (attention.needed and called is not Called.YES)
        clear = CLEAR_AFTER_CALL if called is Called.YES else clear_amid_talk(opinion)
        what = heard(
            opinion, expectation, time.perf_counter() - began, reader, clear if wary else None
        )
        left_out = False
        if attention and attention.on and called is Called.NOT and not amid:
            alone = self.decide(samples, expectation, groups, reader, wary=True)
            left_out = alone.action is Action.ACT
        return replace(what, called=called, unfinished=unfinished, left_out=left_out)

    def _unfinished(self, opinion: Opinion, reader: Reader) -> bool:
        """Whether the likeliest words would mean something else if some more followed."""
        found = next(iter(opinion.hypotheses), None)
        if found is None or found.score < LIKELIER_THAN_NOT:
            return False
        words, following = self._grammar.bare(found.words), self._graph.following(found.words)
        if (meaning := reader(words)) is None:  # the attention words alone
            return any(following)
        return any(reader(f"{words} {more}") != meaning for more in islice(following, _MOST_ENDS))


def heard(
    opinion: Opinion,
    expectation: Expectation,
    seconds: float,
    reader: Reader = read,
    clear: float | None = None,
) -> Heard:
    """What to do about an opinion; `clear` is as in `choose`."""
    match choose(opinion, expectation, reader, clear):
        case Act(command):
            best = _words_of(command, opinion, reader)
            return Heard(
                best.words,
                command,
                Action.ACT,
                best.score,
                opinion.hypotheses,
                opinion.engine,
                seconds,
            )
        case AskWhich(candidates):
            offered = tuple(_words_of(command, opinion, reader) for command in candidates)
            return Heard(
                offered[0].words,
                candidates[0],
                Action.ASK,
                offered[0].score,
                offered,
                opinion.engine,
                seconds,
                candidates,
            )
        case Silent():
            return Heard("", None, Action.SILENT, 0.0, opinion.hypotheses, opinion.engine, seconds)


def _words_of(command: Command, opinion: Opinion, reader: Reader) -> Hypothesis:
    return next(found for found in opinion.hypotheses if reader(found.words) == command)
