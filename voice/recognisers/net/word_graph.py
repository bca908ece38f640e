"""Turns a grammar into the smallest graph of words, for every recogniser that searches itself.

Rules are shared, not copied at each mention: a grammar that mentions a length sixty times stays at
a few thousand words. Source: partial derivatives of regular expressions (Antimirov 1996)
give the states, bottom-up merging of equal states makes it smallest (Revuz 1992).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import groupby

from voice.words.grammar import Choice, Grammar, Node, Rule, Word
from voice.words.grammar import Sequence as Series

_Rest = tuple[Node, ...]
_State = frozenset[_Rest]
_END: _Rest = ()


@dataclass(frozen=True, slots=True)
class Arc:
    """One word from a state to a later one."""

    source: int
    word: str
    target: int


@dataclass(frozen=True)
class WordGraph:
    """States numbered from 0, the usual start; arcs in no special order, no two alike."""

    states: int
    arcs: tuple[Arc, ...]
    finals: frozenset[int]
    starts: tuple[int, ...] = (0,)

    def accepts(self, words: str) -> bool:
        """True when the words, parted by spaces, are one whole phrase; apostrophes do not count."""
        return self._after(words) in self.finals

    def following(self, words: str) -> Iterator[str]:
        """The words that may follow these so that all together are a whole phrase."""
        if (state := self._after(words)) is not None:
            yield from self._phrases_from(state)

    def _phrases_from(self, state: int) -> Iterator[str]:
        for arc in self._by_source.get(state, ()):
            if arc.target in self.finals:
                yield arc.word
            for rest in self._phrases_from(arc.target):
                yield f"{arc.word} {rest}"

    def _after(self, words: str) -> int | None:
        state: int | None = self.starts[0]
        for word in words.replace("'", "").split():
            state = None if state is None else self._steps.get((state, word))
        return state

    @cached_property
    def _steps(self) -> dict[tuple[int, str], int]:
        return {(arc.source, arc.word.replace("'", "")): arc.target for arc in self.arcs}

    @cached_property
    def _by_source(self) -> dict[int, list[Arc]]:
        arcs = sorted(self.arcs, key=lambda arc: arc.source)
        return {source: list(some) for source, some in groupby(arcs, key=lambda arc: arc.source)}


def side_by_side(phrases: Sequence[str]) -> WordGraph:
    """A graph of phrases that share nothing: each starts and ends in states of its own."""
    arcs, starts, finals = list[Arc](), list[int](), list[int]()
    state = 0
    for phrase in phrases:
        starts.append(state)
        for word in phrase.split():
            arcs.append(Arc(state, word, state + 1))
            state += 1
        finals.append(state)
        state += 1
    return WordGraph(state, tuple(arcs), frozenset(finals), tuple(starts))


class _Expander:
    """Follows a grammar word by word, and remembers each step."""

    def __init__(self, rules: Mapping[str, Node]) -> None:
        self._rules = rules
        self._known: dict[_Rest, tuple[bool, dict[str, set[_Rest]]]] = {}

    def step(self, rest: _Rest) -> tuple[bool, dict[str, set[_Rest]]]:
        """True when nothing more is needed; and the rests that can follow each next word."""
        if rest not in self._known:
            self._known[rest] = self._step(rest)
        return self._known[rest]

    def _step(self, rest: _Rest) -> tuple[bool, dict[str, set[_Rest]]]:
        if not rest:
            return True, {}
        head, tail = rest[0], rest[1:]
        match head:
            case Word(text):
                return False, {text: {tail}}
            case Rule(name):
                return self.step((self._rules[name], *tail))
            case Series(parts):
                return self.step((*parts, *tail))
            case Choice(options):
                return self._union([self.step((option, *tail)) for option in options])

    @staticmethod
    def _union(
        steps: list[tuple[bool, dict[str, set[_Rest]]]],
    ) -> tuple[bool, dict[str, set[_Rest]]]:
        merged: dict[str, set[_Rest]] = {}
        for _, following in steps:
            for word, rests in following.items():
                merged.setdefault(word, set()).update(rests)
        return any(done for done, _ in steps), merged


def word_graph(grammar: Grammar) -> WordGraph:
    """The smallest graph whose paths are exactly the phrases of the grammar."""
    return _word_graph(grammar.phrases, tuple(grammar.rules.items()))


@lru_cache(maxsize=8)
def _word_graph(phrases: tuple[Node, ...], rules: tuple[tuple[str, Node], ...]) -> WordGraph:
    """The smallest graph, remembered because several engines ask for the same one."""
    expander = _Expander(dict(rules))
    merged: dict[tuple[bool, frozenset[tuple[str, int]]], int] = {}
    number_of: dict[_State, int] = {}

    def visit(state: _State) -> int:
        if state not in number_of:
            steps = [expander.step(rest) for rest in state]
            done, following = expander._union(steps)
            arcs = frozenset((word, visit(frozenset(to))) for word, to in following.items())
            number_of[state] = merged.setdefault((done, arcs), len(merged))
        return number_of[state]

    visit(frozenset((phrase,) for phrase in phrases))
    return _numbered_from_start(list(merged))


def _numbered_from_start(states: list[tuple[bool, frozenset[tuple[str, int]]]]) -> WordGraph:
    """The graph with its start moved to 0; states are made children first, so it came last."""
    last = len(states) - 1
    arcs = tuple(
        Arc(last - number, word, last - target)
        for number, (_, following) in enumerate(states)
        for word, target in sorted(following)
    )
    finals = frozenset(last - number for number, (done, _) in enumerate(states) if done)
    return WordGraph(len(states), arcs, finals)
