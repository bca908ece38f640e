"""The question that stands open, and the words that answer it."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.session import commands as c
from pattern.session.decisions import HEARD_IN_PAUSE
from pattern.session.state import State
from voice.sentences import asked_first, asked_further, due
from voice.sentences.amounts import joined
from voice.words.free.around_phrases import after_yes
from voice.words.free.correcting import corrected
from voice.words.free.short_answers import agrees, cancels, declines
from voice.words.free.wanted import Wanted, answering


@dataclass(frozen=True, slots=True)
class Unsure:
    """A stitch whose name means another one in other terms."""

    stitch: c.Choose


Pending = c.Command | Wanted | Unsure
"""The thing that was asked about: a command that a yes does, a number, or US or UK terms."""


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


def to_pending(
    words: str, command: c.Command | None, state: State, pending: Pending
) -> Understood | None:
    """The answer to what was asked about; None where the words are none to it."""
    if isinstance(command, c.Skip) or cancels(words):
        return Understood(say=joined(asked_first.LEFT, due.now(state)))
    if isinstance(pending, Unsure):
        chosen = isinstance(command, c.Choose) and command.key == "terms"
        return Understood((command, pending.stitch)) if chosen and command is not None else None
    if isinstance(pending, Wanted):
        if command is not None and not isinstance(command, c.Answer | c.HeadOf | c.Counted):
            return None
        answer = command if isinstance(command, c.HeadOf) else answering(pending, words)
        return Understood((answer,)) if answer is not None else None
    if agrees(words) or declines(words):
        command = c.Yes() if agrees(words) else c.No()
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
            return Understood(say=joined(asked_first.LEFT, due.now(state)))
        case c.No(amount) | c.Answer(amount) if amount is not None:
            right = corrected(asked, amount)
            return Understood((right,)) if right is not None else None
    return None


def repeated(pending: Pending | None, state: State) -> Understood:
    """The question itself, once more."""
    if isinstance(pending, Wanted):
        said = asked_further.number(pending)
    elif isinstance(pending, Unsure):
        said = asked_further.which_terms(pending.stitch)
    else:
        assert pending is not None
        said = asked_first.question(pending, state)
    return Understood(say=said, pending=pending, unheard=True)
