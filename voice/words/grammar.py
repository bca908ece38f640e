"""Expressions in the notation of JSGF, and what is made from them: patterns, grammars, sentences.

Source of the notation: JSpeech Grammar Format, W3C Note, 5 June 2000: words, [optional],
(one | other), <rule>. Weights, tags and repeats are not used.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache, cached_property

_TOKEN = re.compile(r"\s*(<[a-z_]+>|[\[\]()|]|[^\s\[\]()|<>{}*+=;/\\\"]+)")


@dataclass(frozen=True, slots=True)
class Word:
    """One word, in small letters."""

    text: str


@dataclass(frozen=True, slots=True)
class Rule:
    """A reference to a rule of the grammar."""

    name: str


@dataclass(frozen=True)
class _Nested:
    """Its hash is found once: else each look-up would go down the whole tree."""

    parts: tuple[Node, ...]

    @cached_property
    def _hash(self) -> int:
        return hash(self.parts)

    def __hash__(self) -> int:
        return self._hash


class Sequence(_Nested):
    """Parts one after the other."""


class Choice(_Nested):
    """One of its parts; an empty sequence among them makes the rest optional."""


Node = Word | Rule | Sequence | Choice
NOTHING = Sequence(())


class BadExpression(ValueError):  # noqa: N818 - it reads as what happened
    """An expression that is not in the notation; says where."""


@cache
def parse(expression: str) -> Node:
    """The tree of an expression.

    Raises: BadExpression for unbalanced brackets, an empty bracket or a stray character.
    """
    tokens = _TOKEN.findall(expression)
    if "".join(tokens) != "".join(expression.split()):
        raise BadExpression(f"stray character in {expression!r}")
    node, rest = _choice(tokens, expression)
    if rest:
        raise BadExpression(f"unexpected {rest[0]!r} in {expression!r}")
    return node


def _choice(tokens: list[str], whole: str) -> tuple[Node, list[str]]:
    options = []
    while True:
        node, tokens = _sequence(tokens, whole)
        options.append(node)
        if not tokens or tokens[0] != "|":
            return (options[0] if len(options) == 1 else Choice(tuple(options))), tokens
        tokens = tokens[1:]


def _sequence(tokens: list[str], whole: str) -> tuple[Node, list[str]]:
    parts: list[Node] = []
    while tokens and tokens[0] not in {"|", "]", ")"}:
        first, tokens = tokens[0], tokens[1:]
        if first in {"[", "("}:
            inner, tokens = _choice(tokens, whole)
            if not tokens or tokens[0] != {"[": "]", "(": ")"}[first]:
                raise BadExpression(f"{first!r} is not closed in {whole!r}")
            tokens = tokens[1:]
            parts.append(Choice((inner, NOTHING)) if first == "[" else inner)
        else:
            parts.append(Rule(first[1:-1]) if first.startswith("<") else Word(first))
    if not parts:
        raise BadExpression(f"nothing between brackets or bars in {whole!r}")
    return (parts[0] if len(parts) == 1 else Sequence(tuple(parts))), tokens


def regex(node: Node) -> str:
    """A pattern over space-separated words, each followed by a space; rules become named groups."""
    match node:
        case Word(text):
            return re.escape(text.replace("'", "")) + " "
        case Rule(name):
            return f"(?P<{name}>.+? )"
        case Sequence(parts):
            return "".join(map(regex, parts))
        case Choice(options):
            return "(?:" + "|".join(map(regex, options)) + ")"


def rules_in(node: Node) -> frozenset[str]:
    """Names of the rules an expression refers to."""
    match node:
        case Word():
            return frozenset()
        case Rule(name):
            return frozenset({name})
        case Sequence(parts) | Choice(parts):
            return frozenset().union(*map(rules_in, parts))


def sentences(node: Node, rules: Mapping[str, Node]) -> Iterator[tuple[str, ...]]:
    """Every sentence of an expression as a tuple of words; rules are followed."""
    match node:
        case Word(text):
            yield (text,)
        case Rule(name):
            yield from sentences(rules[name], rules)
        case Sequence(parts):
            for words in itertools.product(*(tuple(sentences(p, rules)) for p in parts)):
                yield tuple(itertools.chain.from_iterable(words))
        case Choice(options):
            for option in options:
                yield from sentences(option, rules)


@dataclass(frozen=True, slots=True)
class Grammar:
    """The phrases that can be said now, and the rules they refer to."""

    phrases: tuple[Node, ...]
    rules: Mapping[str, Node]
    lead: str = ""
    """Words with which every phrase begins and which are no part of what it means."""

    def bare(self, words: str) -> str:
        """The words of a phrase without the lead."""
        return words.removeprefix(f"{self.lead} ")

    def _needed(self) -> set[str]:
        needed, queue = set[str](), set[str]().union(*map(rules_in, self.phrases))
        while queue:
            needed.add(rule := queue.pop())
            queue |= rules_in(self.rules[rule]) - needed
        return needed

    def words(self) -> frozenset[str]:
        """Every word that can occur."""
        nodes = [*self.phrases, *(self.rules[rule] for rule in self._needed())]
        return frozenset().union(*map(_words, nodes))

    def first_words(self) -> frozenset[str]:
        """Every word that can begin a phrase."""
        return frozenset().union(*(begun(phrase, self.rules)[0] for phrase in self.phrases))


def _words(node: Node) -> frozenset[str]:
    match node:
        case Word(text):
            return frozenset({text})
        case Rule():
            return frozenset()
        case Sequence(parts) | Choice(parts):
            return frozenset().union(*map(_words, parts))


def begun(node: Node, rules: Mapping[str, Node]) -> tuple[frozenset[str], bool]:
    """Every word that can come first, and whether there may be no word at all."""
    match node:
        case Word(text):
            return frozenset({text}), False
        case Rule(name):
            return begun(rules[name], rules)
        case Choice(options):
            words, empty = zip(*(begun(option, rules) for option in options), strict=True)
            return frozenset().union(*words), any(empty)
        case Sequence(parts):
            first = frozenset[str]()
            for part in parts:
                words_of_part, may_be_empty = begun(part, rules)
                first |= words_of_part
                if not may_be_empty:
                    return first, False
            return first, True
