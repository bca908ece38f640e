"""Understands words by the table, by rule and by likeness; some are asked about first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from pattern.session import commands as c
from pattern.session.decisions import HEARD_IN_PAUSE
from pattern.session.state import State
from pattern.trade.stitches import Terms
from voice.sentences import asked_first, asked_further, due, pace
from voice.sentences.amounts import joined
from voice.words import phrases
from voice.words.free.clear import clear, stitch_terms
from voice.words.free.correcting import corrected
from voice.words.free.matched import Match
from voice.words.free.matching import changes_piece, match
from voice.words.free.pain import hurts, says_more
from voice.words.free.resuming import resumes
from voice.words.free.short_answers import agrees, cancels, declines
from voice.words.free.told_at_once import told_at_once
from voice.words.free.wanted import Wanted, answering, mending

PAIN = c.Ask(c.Asked.PAIN)


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


def understood(words: str, state: State, pending: Pending | None = None) -> Understood:
    """Understand words in a state, where `pending` was asked about.

    Pain is answered wherever it is told, and leaves what stands open.
    """
    command = phrases.read(words)
    if command == PAIN or (command is None and hurts(words)):
        more = _meant(words, None, state, None) if says_more(words) else Understood()
        if more.commands:
            return replace(more, say=joined(more.say, pace.pain(state)))
        return Understood((PAIN,), pending=pending)
    return _meant(words, command, state, pending)


def _meant(
    words: str, command: c.Command | None, state: State, pending: Pending | None
) -> Understood:
    """The meaning of words that tell of no pain."""
    if state.paused and pending is None and (found := _in_pause(words, command, state)) is not None:
        return found
    if pending is not None and (found := _to_pending(words, command, state, pending)) is not None:
        return found
    if state.doubt is not None and (agrees(words) or declines(words)):
        return Understood((c.Yes() if agrees(words) else c.No(),))
    if command is not None:
        return _told(command, state)
    asked = pending if not isinstance(pending, Wanted | Unsure) else None
    if told := told_at_once(words, state):
        return _several(told)
    found_ = clear(words, state)
    if isinstance(found_, Wanted):
        return Understood(say=asked_further.number(found_), pending=found_)
    found_ = found_ or match(words, state, asked)
    if found_.command is None:
        return _not_understood(found_, state, pending)
    if asked is not None and isinstance(found_.command, c.Yes | c.No):
        return _to_yes_or_no(found_.command, asked, state) or _repeated(pending, state)
    if found_.asks:
        return _asks(found_.command, state)
    if (wanted := mending(found_.command, state)) is not None:
        told = () if isinstance(found_.command, c.Help) else (found_.command,)
        return Understood(told, asked_further.number(wanted), wanted)
    stays = not changes_piece(found_.command, state) and not isinstance(found_.command, c.Leave)
    if asked is not None and stays:
        return Understood((found_.command,), asked_first.question(asked, state), asked)
    if state.doubt is not None and isinstance(found_.command, c.Ask | c.Explain | c.Speak | c.Help):
        return Understood((found_.command,), due.now(state))
    return _told(found_.command, state)


def _several(told: Sequence[c.Command | Wanted]) -> Understood:
    """Several answers in one sentence; a number that one lacks is asked for."""
    lacks = [one for one in told if isinstance(one, Wanted)]
    commands = tuple(one for one in told if not isinstance(one, Wanted))
    if not lacks:
        return Understood(commands)
    return Understood(commands, asked_further.number(lacks[0]), lacks[0])


def _in_pause(words: str, command: c.Command | None, state: State) -> Understood | None:
    """The end of a pause, or the question whether it is over; None for any other words.

    Free words that would mean something at work are of somebody who is back at it.
    """
    if resumes(words):
        return Understood((c.Resume(),))
    awake = replace(state, paused=False)
    found = None if command is not None else clear(words, awake) or match(words, awake)
    meant = found.command if isinstance(found, Match) else None
    heard = meant is None or isinstance(meant, HEARD_IN_PAUSE)
    return None if heard else _asks(c.Resume(), state)


def _told(command: c.Command, state: State) -> Understood:
    """The result of a clear command; a stitch in terms that were not said is asked about."""
    terms = stitch_terms(command, state)
    if len(terms) == 2 and isinstance(command, c.Choose):
        return Understood(say=asked_further.which_terms(command), pending=Unsure(command))
    if terms == {Terms.UK}:
        return Understood((c.Choose("terms", Terms.UK.value), command))
    return Understood((command,))


def _asks(command: c.Command, state: State) -> Understood:
    return Understood(say=asked_first.question(command, state), pending=command)


def _to_pending(
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
    return _to_yes_or_no(command, pending, state) if command is not None else None


def _to_yes_or_no(command: c.Command, asked: c.Command, state: State) -> Understood | None:
    match command:
        case c.Yes():
            return Understood((asked,))
        case c.No(None):
            return Understood(say=joined(asked_first.LEFT, due.now(state)))
        case c.No(amount) | c.Answer(amount) if amount is not None:
            right = corrected(asked, amount)
            return Understood((right,)) if right is not None else None
    return None


def _not_understood(found: Match, state: State, pending: Pending | None) -> Understood:
    """Reply to words that fit nothing: the open question again, or what is near."""
    if pending is not None:
        return _repeated(pending, state)
    if state.doubt is not None:
        return Understood(say=due.now(state), unheard=True)
    near = asked_first.nearest(found.near)
    open_ = due.now(state) if state.question is not None else ""
    return Understood(say=joined(near, open_) if open_ else near, unheard=True)


def _repeated(pending: Pending | None, state: State) -> Understood:
    """The question itself, once more."""
    if isinstance(pending, Wanted):
        said = asked_further.number(pending)
    elif isinstance(pending, Unsure):
        said = asked_further.which_terms(pending.stitch)
    else:
        assert pending is not None
        said = asked_first.question(pending, state)
    return Understood(say=said, pending=pending, unheard=True)
