"""The one table of what can be said: grammar, parser and help come from it."""

from __future__ import annotations

import re
from functools import cache

from pattern.session import commands as c
from voice.words import grammar, typed_text
from voice.words.phrases import (
    advice,
    answers,
    asking,
    changes,
    decorating,
    fitting,
    looking,
    manner,
    measuring,
    touch,
    trade_names,
    work,
    yarn,
)
from voice.words.phrases.row import Group, Phrase
from voice.words.phrases.slots import RULES, SLOTS, TOPICS

PHRASES: tuple[Phrase, ...] = tuple(
    row
    for theme in (
        work,
        asking,
        advice,
        measuring,
        decorating,
        fitting,
        touch,
        looking,
        yarn,
        manner,
        answers,
        trade_names,
        changes,
    )
    for row in theme.ROWS
)
"""Order matters where two forms fit the same words: the first that does is taken."""


_NOTE = re.compile(
    r"\s*(?:(?:make|take)\s+a\s+)?note(?![^\W_])[\s.:,]*(?P<words>.*)", re.IGNORECASE | re.DOTALL
)
"""A note keeps its words as they are: any that are typed, or recognised as free text."""


_ANY = grammar.Word("*")


@cache
def _forms() -> dict[str, list[tuple[str, Phrase]]]:
    """Forms that can begin with each word, in their order; under `_ANY` those that can with any."""
    every = [(form, phrase) for phrase in PHRASES for form in (*phrase.forms, *phrase.also)]
    firsts = {form: _first_words(form) for form, _ in every}
    return {
        word: [(form, phrase) for form, phrase in every if firsts[form] & {word, _ANY.text}]
        for word in frozenset({_ANY.text}).union(*firsts.values())
    }


def _first_words(form: str) -> frozenset[str]:
    words, _ = grammar.begun(grammar.parse(form), dict.fromkeys(RULES, _ANY))
    return frozenset(word.replace("'", "") for word in words)


@cache
def _pattern(form: str) -> re.Pattern[str]:
    return re.compile(grammar.regex(grammar.parse(form)))


_FILLERS = re.compile(r"^(?:(?:okay|ok|um|uh|er|well(?! above)) )+(?=.)|(?<=.) please$")
"""Words around a phrase that mean nothing; "yes please" is a form of its own, and the same."""


def read(text: str) -> c.Command | None:
    """The command that words mean as a whole; None when no phrase fits."""
    if (noted := _NOTE.fullmatch(text)) is not None:
        return c.Note(noted["words"].strip())
    words = _FILLERS.sub("", typed_text.normalise(text))
    forms = _forms()
    for form, phrase in forms.get(words.partition(" ")[0], forms[_ANY.text]):
        if (match := _pattern(form).fullmatch(words + " ")) is None:
            continue
        slots = {name: SLOTS[name](said.strip()) for name, said in match.groupdict().items()}
        if None not in slots.values():
            return phrase.build(slots or {"said": words})
    return None


def grammar_of(groups: frozenset[Group]) -> grammar.Grammar:
    """The grammar of what may be said now; what is always allowed is always in it."""
    return grammar.Grammar(
        tuple(
            grammar.parse(form)
            for phrase in PHRASES
            if phrase.group in groups | {Group.ALWAYS}
            for form in phrase.forms
        ),
        RULES,
    )
