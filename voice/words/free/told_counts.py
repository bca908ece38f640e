"""Counts, repeats and rounds as makers tell them: "I've only got ten there". Common usage."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.reading_kinds import Kind
from voice.words import spoken_numbers
from voice.words.free.matched import Match

_SO = r"(?:(?:so|oh|oops|no|and|but|well|right|only|just|still|too (?:many|few)|actually|wait) )*"
_COUNT = (
    rf"{_SO}(?:there (?:is|are) |(?:i |we )?(?:have |had )?(?:only |just |still )*"
    r"(?:got|have|make it|made it|make|count|counted|get|end up with|ended up with|it is|find"
    r"|found) )(?:only |just |about )?(?P<count>[a-z0-9 ]+?)(?: stitches)?"
    r"(?: (?:there|now|here|of them|on (?:there|here|it|this one)|in (?:this|the|that) round"
    r"|altogether|in all|this time|only))*"
)
_MADE_IT = rf"{_SO}(?P<count>[a-z0-9 ]+?)(?: stitches)? (?:i make it|by my count|i count|i counted)"
_NUMBER = r"[a-z0-9]+(?: [a-z0-9]+){0,4}?"
_OF_ALL = (
    rf"{_SO}(?:i (?:have |am )?(?:done |did |at |on |finished )?)?(?P<done>{_NUMBER})"
    rf"(?: (?:sets?|repeats?))? (?:out )?of (?:the )?(?P<all>{_NUMBER})"
    r"(?: (?:sets?|repeats?))?(?: (?:done|finished|now|so far))*"
)
_ROUNDS = (
    rf"{_SO}(?:i (?:have |am )?)?(?:did|done|worked|finished|made|completed) (?:another )?"
    r"(?P<count>[a-z0-9]+|a couple of|a few)(?: more)? (?:rounds|rows)(?: .{1,40})?"
    rf"|{_SO}i am (?:[a-z0-9]+|a couple of|a few) (?:rounds|rows) (?:ahead|further)(?: .{{1,20}})?"
)


def told_count(words: str, state: State) -> Match | None:
    """The count, the repeats or the rounds that plain words tell, to be asked about."""
    if state.offered is None:
        return None
    if re.fullmatch(_ROUNDS, words):
        return Match(c.Next(), asks=True)
    if (sets := _sets(words, state)) is not None:
        return Match(c.Sets(sets), asks=True)
    if state.want is not None and state.want.kind is not Kind.LOOK:
        return None
    found = re.fullmatch(_COUNT, words) or re.fullmatch(_MADE_IT, words)
    count = spoken_numbers.read_integer(found["count"]) if found else None
    few = re.search(r"\b(?:only|just|there)\b", words) is not None
    near = count is not None and count > 2 and (few or 2 * count >= state.offered.before)
    return Match(c.Counted(count), asks=True) if count is not None and near else None


def _sets(words: str, state: State) -> int | None:
    """The first of two numbers, where the second is that of the round's repeats."""
    found = re.fullmatch(_OF_ALL, words)
    if found is None or state.offered is None:
        return None
    done, whole = (spoken_numbers.read_integer(found[name]) for name in ("done", "all"))
    if done is None or whole is None or whole != state.offered.sets or done >= whole:
        return None
    return done
