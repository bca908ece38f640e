"""Several answers of the interview in one sentence: "a beanie for my husband, in chunky wool"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.refusals import Refused
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.shape.shape_names import shape_in
from pattern.trade import names
from pattern.trade.lengths import TAPE_UNITS
from voice.words import phrases
from voice.words.free.amounts import amounts
from voice.words.free.answers_by_name import hook_in_words, wearer_in, yarn_in_words
from voice.words.free.matched import Match
from voice.words.free.size_words import size_in
from voice.words.free.spellings import said_plainly
from voice.words.free.vague_changes import brim_of
from voice.words.free.wanted import Wanted
from voice.words.numbers_told import tells_a_number

MOST_WORDS = 60
"""A longer text is no answer; our choice."""
_JOINS = r"\s+(?=(?:and|with|in|using|on|out of|from|for|but|so)\b)"
"""Words that begin the next thing that is told."""
_BALL_OF_YARN = r"\bballs?\b(?! (?:for|with|to play)\b)|\brug (?:wool|yarn)\b"
"""Words of yarn that are names of shapes as well."""
_ORDER = ("terms", "shape", "head", "yarn", "hook", "stitch")
_KEYS = {"yarn": "yarn", "hook_mm": "hook", "head_mm": "head", "shape": "shape"}
"""Phrases of these answers, by the kind of thing."""
_TERMS = r"\b(uk|us) (?:crochet )?(?:terms|terminology|names|style)\b"
_NO_BRIM = r"\b(?:no|without (?:a|any)) brim\b|\bbrimless\b"

Told = c.Command | Wanted


def told_at_once(text: str, state: State) -> tuple[Told, ...]:
    """The answers in a sentence, the shape first; nothing where fewer than two are told.

    Sizes in words come last: they depend on the shape and on the unit that the others tell.
    """
    if state.stage is not Stage.SETUP or state.paused or len(text.split()) > MOST_WORDS:
        return ()
    found: dict[str, Told] = {}
    clauses = tuple(_clauses(text))
    for clause in clauses:
        for key, told in _in_clause(clause, state):
            found[key] = _better(found.get(key), told)
    shaped = _after([told for told in (found.get("shape"),) if isinstance(told, c.Choose)], state)
    if shaped is not None and not shaped.settings.shape.for_head:
        found.pop("head", None)  # somebody's bowl has no head
    ordered = [found[key] for key in _ORDER if key in found]
    commands = [told for told in ordered if not isinstance(told, Wanted)]
    after = _after(commands, state)
    for clause in clauses:
        if after is not None and (size := _size(clause, after)) is not None:
            found.setdefault(size.key, size)
    sizes = [told for key, told in found.items() if key not in _ORDER]
    lacks = [told for told in ordered if isinstance(told, Wanted)]
    return (*commands, *sizes, *lacks) if len(found) > 1 else ()


def _better(before: Told | None, told: Told) -> Told:
    """The first that is told of a kind of thing; where that lacked its number, what has it."""
    if before is None:
        return told
    if not isinstance(before, Wanted) or isinstance(told, Wanted):
        return before
    if isinstance(told, c.HeadOf) and told.sex is None:
        return replace(told, sex=before.sex)
    return told


def told_aloud(text: str, state: State) -> tuple[c.Command, ...]:
    """Those that are taken together where the words were heard: where a number is among the words,
    what it was heard as is asked for by itself.
    """
    numbers = bool(amounts(said_plainly(text)))
    told = [one for one in told_at_once(text, state) if not isinstance(one, Wanted)]
    sure = [one for one in told if not numbers or not tells_a_number(one)]
    return tuple(sure) if len(sure) > 1 else ()


def _after(commands: Sequence[c.Command], state: State) -> State | None:
    """The state after answers; None where one is refused, which is then told."""
    try:
        for command in commands:
            state = fold(state, decide(state, command))
    except Refused:
        return None
    return state if state.stage is Stage.SETUP else None


def _clauses(text: str) -> Iterator[str]:
    for part in re.split(r"[,;:!?]|\.(?!\d)", text):
        words = said_plainly(part)
        yield from (clause for clause in re.split(_JOINS, words) if clause)


def _in_clause(words: str, state: State) -> Iterator[tuple[str, Told]]:
    """The answers in one clause, by the kind of thing."""
    shape = shape_in(words)
    if shape is not None and not re.search(_BALL_OF_YARN, words):
        yield "shape", c.Choose("shape", shape)
    told = phrases.read(words)
    if isinstance(told, c.Change | c.Choose) and told.key in _KEYS:
        yield _KEYS[told.key], told
    bare = isinstance(told, c.Answer) and told.amount.unit in TAPE_UNITS
    if bare and isinstance(told, c.Answer) and state.question == "head_mm":
        yield "head", c.Change("head_mm", told.amount)
    if (terms := re.search(_TERMS, words)) is not None:
        yield "terms", c.Choose("terms", terms[1])
    named = names.stitch_word_in(names.not_denied(words)) if "crochet" in words else None
    if named is not None:
        yield "stitch", c.Choose("stitch", named)
    for key, reader in (("hook", hook_in_words), ("yarn", yarn_in_words), ("head", wearer_in)):
        found = reader(words, state)
        if isinstance(found, Match) and found.command is not None:
            yield key, found.command
        elif isinstance(found, Wanted):
            yield key, found


def _size(words: str, state: State) -> c.Change | c.Choose | None:
    """The size in words that one clause tells, or that there is no brim."""
    if re.search(_NO_BRIM, words) and "brim_mm" in state.settings.shape.asked:
        return c.Choose("brim_mm", 0)
    return brim_of(words) or size_in(words, state)
