"""The question that stands open, and the words that answer it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeGuard

from pattern.session import commands as c
from pattern.session.decisions import HEARD_IN_PAUSE, only_asks
from pattern.session.state import State
from voice.sentences import asked_first, asked_further, due
from voice.sentences.amounts import joined
from voice.sentences.asked_first import LEFT
from voice.words.free.afterwards import afterwards
from voice.words.free.around_phrases import after_yes
from voice.words.free.correcting import corrected
from voice.words.free.matched import Match
from voice.words.free.short_answers import agrees, cancels, declines
from voice.words.free.spellings import said_plainly
from voice.words.free.wanted import Wanted, answering

_THEN_YES = r"^(?!no\b|not\b).{1,40} (?:yes|yeah|yep|that is right|that is it)$"
"""An answer that repeats what was asked, and ends with a yes."""


@dataclass(frozen=True, slots=True)
class Unsure:
    """A stitch whose name means another one in other terms."""

    stitch: c.Choose


@dataclass(frozen=True, slots=True)
class Then:
    """A command that is asked about, and what was said after it in the same breath."""

    first: c.Command
    then: tuple[Match, ...]


Pending = c.Command | Wanted | Unsure | Then
"""The thing that was asked about: a command that a yes does, a number, or US or UK terms."""


def asked_about(pending: Pending | None) -> c.Command | None:
    """The command that a yes would do; None where something else is asked, or nothing."""
    if isinstance(pending, Then):
        return pending.first
    return None if isinstance(pending, Wanted | Unsure) else pending


@dataclass(frozen=True, slots=True)
class Understood:
    """The result of understanding words."""

    commands: tuple[c.Command, ...] = ()
    """To be done, in this order."""
    say: str = ""
    """Said instead of doing anything, or after it."""
    pending: Pending | None = None
    """The thing that is asked about now."""
    unheard: bool = False
    """Whether nothing was understood."""


def followed(found: Understood, then: Sequence[Match], state: State) -> Understood:
    """The result of what was understood, followed by what was said after it: done, or asked."""
    done = list(found.commands)
    for one in done:
        state = afterwards(one, state)
    for number, each in enumerate(then, 1):
        assert each.command is not None
        if each.asks and not only_asks(state, each.command):
            asks, more = asked_first.question(each.command, state), tuple(then[number:])
            say = joined(found.say, asks) if found.say else asks
            return Understood(tuple(done), say, Then(each.command, more) if more else each.command)
        done.append(each.command)
        state = afterwards(each.command, state)
    return replace(found, commands=tuple(done))


def to_pending(
    words: str, command: c.Command | None, state: State, pending: Pending
) -> Understood | None:
    """The answer to what was asked about; None where the words are none to it."""
    if isinstance(pending, Then):
        done = to_pending(words, command, state, pending.first)
        if done is None or done.pending is not None:
            return done
        left = Understood(say=LEFT if pending.then[0].asks else "")
        return followed(done if done.commands else left, pending.then, state)
    if isinstance(command, c.Skip | c.Undo) or cancels(words):
        return Understood(say=joined(LEFT, due.now(state)))
    if isinstance(pending, Unsure):
        chosen = isinstance(command, c.Choose) and command.key == "terms"
        return Understood((command, pending.stitch)) if chosen and command is not None else None
    if isinstance(pending, Wanted):
        if command == c.No() or declines(words):
            return Understood(say=joined(LEFT, due.now(state)))
        if command is not None and not isinstance(command, c.Answer | c.HeadOf | c.Counted):
            return None
        answer = command if isinstance(command, c.HeadOf) else answering(pending, words)
        return Understood((answer,)) if answer is not None else None
    if agrees(words) or declines(words) or re.search(_THEN_YES, said_plainly(words)):
        command = c.No() if declines(words) else c.Yes()
    if command is None and (more := after_yes(words)) is not None:
        return Understood((pending,) if more == pending else (pending, more))
    return to_yes_or_no(command, pending, state) if command is not None else None


def to_yes_or_no(command: c.Command, asked: c.Command, state: State) -> Understood | None:
    """The result of a yes, a no or a corrected value to a question; None where it is none of them.

    In a pause a yes to work leaves the question open.
    """
    match command:
        case c.Yes():
            stays = state.paused and not isinstance(asked, HEARD_IN_PAUSE)
            return Understood((asked,), pending=asked if stays else None)
        case c.No(None):
            return Understood(say=joined(LEFT, due.now(state)))
        case c.No(amount) | c.Answer(amount) if amount is not None:
            right = corrected(asked, amount)
            return Understood((right,)) if right is not None else None
    return None


_TOLD = (
    *(c.Measured, c.ByHand, c.Counted, c.CountedIn, c.Weighed, c.HaveBalls, c.TriedOn),
    *(c.Lies, c.RippedBack, c.Change, c.Adjust),
)
"""Kinds that tell something of the piece: dropped without a word it would be lost."""


def is_let_go(asked: Pending | None, found: Understood) -> TypeGuard[c.Command]:
    """Whether something of the piece was told and asked about, and what came instead of an answer
    changes the piece.
    """
    if not isinstance(asked, _TOLD) or found.pending is not None:
        return False
    kinds = {type(one) for one in found.commands}
    return bool(kinds & {c.Next, c.Sets}) and type(asked) not in kinds


def repeated(pending: Pending | None, state: State) -> Understood:
    """The question itself, once more."""
    if isinstance(pending, Then):
        return replace(repeated(pending.first, state), pending=pending)
    if isinstance(pending, Wanted):
        said = asked_further.number(pending)
    elif isinstance(pending, Unsure):
        said = asked_further.which_terms(pending.stitch)
    else:
        assert pending is not None
        said = asked_first.question(pending, state)
    return Understood(say=said, pending=pending, unheard=True)
