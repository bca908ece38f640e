"""Two things in one sentence, or more: "done, and it's nine across". Common usage, no source."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.rounds import Stage
from voice.words import phrases
from voice.words.free.afterwards import afterwards
from voice.words.free.amounts import amounts
from voice.words.free.around_phrases import phrase_in
from voice.words.free.at_work import at_work
from voice.words.free.clear import clear
from voice.words.free.denied import denies
from voice.words.free.matched import Match
from voice.words.free.matching import changes_piece, match
from voice.words.free.meant_here import meant_here
from voice.words.free.spellings import said_plainly
from voice.words.free.yarn_asked import yarn_told_and_asked

MOST_WORDS = 24
"""A longer text tells more than two things; our choice."""
FEWEST_WORDS = 3
"""Fewer are matched to nothing: too much is like them. Our choice."""
_MARKS = r"[,;.!] +(?:(?:and|but|so|then) )?"
_WORDS = r" (?:and|but|so|then) (?:(?:also|now|then) )?"
_DONE = (
    r"(?:(?<=\bdone) |(?<=\bfinished) )"
    r"(?=(?:it|its|that|this|the|how|what|where|my|they|there|now|i)\b)"
)
_JOINS = re.compile(f"{_MARKS}|{_WORDS}|{_DONE}", re.IGNORECASE)
_WITHDRAWN = r"(?:no|sorry|wait|oops|not)\b"
"""Such words take back what came before."""
_PRAISE = r"\b(?:nice|lovely|good) and $"
"""It praises what follows: "nice and snug"."""
_WORKED = r"\b(?:next|done|did|finished|worked|made|complete|completed)\b"
_STEPS = c.Next
_TELLS = (
    c.Measured | c.Counted | c.CountedIn | c.Lies | c.TriedOn | c.Weighed | c.RippedBack | c.Sets
)
_CHANGES = c.Adjust | c.Change | c.Choose
_ASKS = c.Ask | c.Explain
_LAST = c.Leave | c.Pause
_SAY_AGAIN = (
    r"(?:(?:can|could|would|will) you |please |sorry )*(?:say|repeat|read|tell me) (?:that|it|this)"
    r"(?: (?:once more|again|a bit|a little|more|for me))* (?P<how>slower|slowly|louder)"
    r"(?: (?:please|again|this time))*"
)
_ENDS = c.FinishNow | c.StartSides | c.StartBrim | c.StartNext | c.Undo
_BUT = r"\bbut\b"


def two_things(text: str, state: State, *, aloud: bool = False) -> tuple[Match, ...]:
    """The things, the first said first, each as it is meant after the one before; nothing where
    there are not two, or where one is not clear.

    Of two words on how it fits or lies the one after a "but" counts. Where they were heard
    (`aloud`), what changes the piece is asked about, but that a round is done.
    """
    if state.stage is Stage.SETUP or state.paused or len(text.split()) > MOST_WORDS:
        return ()
    plain = said_plainly(text)
    if slower := re.fullmatch(_SAY_AGAIN, plain):
        return _said_again(slower["how"])
    if at_work(plain, state) is not None or yarn_told_and_asked(plain, state) is not None:
        return ()  # one thing, in more than one clause
    found = next(_divided(text, state, deeper=False), None)
    if found is None:
        found = next(_divided(text, state, deeper=True), ())
    return tuple(_asked(one, state) for one in found) if aloud else found


def _divided(text: str, state: State, *, deeper: bool) -> Iterator[tuple[Match, ...]]:
    """The things that the halves of a text tell, where both are clear; `deeper` where the second is
    clear only in parts.
    """
    whole = len(amounts(said_plainly(text)))
    for before, after in _halves(text):
        plain = said_plainly(after)
        if len(amounts(said_plainly(before))) + len(amounts(plain)) != whole:
            continue  # an amount is cut in two: "one hundred and eight"
        first = _meant(before, state, surely=deeper)
        if first is None:
            continue
        if re.match(_WITHDRAWN, plain) or denies(plain):
            yield ()
        as_now = _meant(after, state, surely=True)
        if as_now is not None and isinstance(as_now.command, _ENDS):
            yield ()  # what comes before it is why
        then = afterwards(first.command, state)
        more = two_things(after, then)
        second = _meant(after, then, surely=first.chance < 1) if not deeper else None
        if deeper and len(more) > 1:
            second = more[0]
        if second is not None and (both := _both(first, second, more, text)) is not None:
            yield both


def _both(
    first: Match, second: Match, more: tuple[Match, ...], text: str
) -> tuple[Match, ...] | None:
    """The things that two halves come to; `more` where the second one holds several. Nothing for
    halves that belong together, None where they do not.
    """
    if second.command == c.Ask(c.Asked.PAIN):
        return (first,)  # pain is answered wherever it is told
    if isinstance(second.command, c.Next) and isinstance(first.command, c.Counted):
        return (first,)  # the count of a round has told that it is done
    if _alike(first, second):
        return (second,) if re.search(_BUT, text) else ()
    if not _together(first, second):
        return None
    return (first, *more) if more and _together(first, more[0]) else (first, second)


def _said_again(how: str) -> tuple[Match, ...]:
    manner = c.Manner.LOUDER if how.startswith("loud") else c.Manner.SLOWER
    return Match(c.Speak(manner), chance=1.0), Match(c.Ask(c.Asked.AGAIN), chance=1.0)


def _asked(one: Match, state: State) -> Match:
    assert one.command is not None
    changes = changes_piece(one.command, state) and not isinstance(one.command, c.Next)
    return replace(one, asks=one.asks or changes)


def _halves(text: str) -> Iterator[tuple[str, str]]:
    for found in _JOINS.finditer(text):
        before, after = text[: found.start()].strip(), text[found.end() :].strip(" .!")
        if before and after and not re.search(_PRAISE, text[: found.end()]):
            yield before, after


def _meant(words: str, state: State, *, surely: bool) -> Match | None:
    """The meaning of one half: a phrase, or clear by rule; where it need not be sure, also what
    matches best, which is asked about.
    """
    plain = said_plainly(words)
    command = meant_here(phrases.read(plain), plain, state) or phrase_in(words)
    if command == c.Next() and re.search(_WORKED, plain) is None:
        return None  # an "okay", most often
    if command is not None:
        return Match(command, chance=1.0)
    found = clear(words, state)
    if found is not None:
        sure = isinstance(found, Match) and found.command is not None
        return replace(found, chance=1.0) if isinstance(found, Match) and sure else None
    few = len(plain.split()) < FEWEST_WORDS
    found = None if surely or few else match(words, state)
    return replace(found, chance=0.5) if found is not None and found.command is not None else None


def _alike(first: Match, second: Match) -> bool:
    """Whether both tell the same thing of the piece, and so one of them is meant."""
    return isinstance(first.command, c.TriedOn | c.Lies) and type(first.command) is type(
        second.command
    )


def _together(first: Match, second: Match) -> bool:
    """Whether two such things are said in one breath, and both are done."""
    one, other = first.command, second.command
    if one == other:
        return False
    tells = isinstance(one, _STEPS | _TELLS | _CHANGES)
    follows = isinstance(other, _STEPS | _TELLS | _CHANGES | _ASKS | _LAST)
    if type(one) is type(other):
        return isinstance(one, c.Measured | c.Adjust | c.Change | c.Choose)
    return tells and follows
