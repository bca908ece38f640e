"""Understands words by the table, by rule and by likeness; some are asked about first."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from pattern.session import commands as c
from pattern.session.decisions import HEARD_IN_PAUSE
from pattern.session.state import State
from voice.caller import in_pause
from voice.caller.pending import (
    Pending,
    Understood,
    asked_about,
    repeated,
    to_pending,
    to_yes_or_no,
)
from voice.caller.told import asks_first, in_turn, told
from voice.sentences import asked_first, asked_further, due, pace
from voice.sentences.amounts import joined
from voice.words import phrases
from voice.words.free.around_phrases import first_clause, greets, last_clause, phrase_in
from voice.words.free.clear import clear
from voice.words.free.matched import Match
from voice.words.free.matching import changes_piece, match
from voice.words.free.meant_here import meant_here
from voice.words.free.own_corrections import corrected_in_breath
from voice.words.free.pain import hurts, says_more
from voice.words.free.resuming import resumes
from voice.words.free.short_answers import agrees, corrects, corrects_last, declines
from voice.words.free.told_at_once import told_at_once
from voice.words.free.two_things import two_things
from voice.words.free.wanted import Wanted, mending

_ANSWERS = c.Answer | c.Change | c.Choose | c.HeadOf
"""Commands that answer a question of the interview."""
PAIN = c.Ask(c.Asked.PAIN)


def understood(words: str, state: State, pending: Pending | None = None) -> Understood:
    """Understand words in a state, where `pending` was asked about.

    Pain is answered wherever it is told, and leaves what stands open.
    """
    words = corrected_in_breath(words)
    command = meant_here(phrases.read(words), words, state)
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
    if state.paused and resumes(words):
        return in_pause.over(words, state, pending)
    if pending is not None and (done := to_pending(words, command, state, pending)) is not None:
        return done
    if state.paused and (done := in_pause.meant(words, command, state)) is not None:
        return done
    asked = asked_about(pending)
    if asked is not None and command is None and (other := _in_its_place(words, state)) is not None:
        return told(other, state)
    if (mended := _mended(words, command, state, asked)) is not None:
        return mended
    if isinstance(command, c.Pause):
        return Understood((command,), pending=pending)
    if command is None and state.doubt is None and (both := two_things(words, state)):
        return in_turn(both, state)
    if command is None and state.doubt is None:
        command = meant_here(phrase_in(words), words, state)
    if command is not None and state.paused and not isinstance(command, HEARD_IN_PAUSE):
        return Understood((command,), pending=c.Resume())
    if command is not None:
        only_tells = asked is not None and isinstance(command, c.Ask | c.Explain | c.Speak)
        return _freely(command, state, asked) if only_tells else told(command, state)
    return _free(words, state, pending, asked)


_NOT_YET = r"\b(?:begin|start)\b.*\b(?:no|not|don't|wait|hang on|hold on)\b"
"""To begin is taken back in the same breath."""


def _free(words: str, state: State, pending: Pending | None, asked: c.Command | None) -> Understood:
    """The meaning of words that are no phrase, nor one with politeness around it."""
    if state.question is not None and re.search(_NOT_YET, words, re.IGNORECASE):
        return Understood(say=due.now(state))
    if several := told_at_once(words, state):
        return _several(several)
    found = Match(c.Ask(c.Asked.AGAIN)) if greets(words) else clear(words, state)
    if isinstance(found, Wanted):
        return Understood(say=asked_further.number(found), pending=found)
    found = found or match(words, state, asked)
    found = found if found.command is not None else _in_a_clause(words, state) or found
    if found.command is None:
        return _not_understood(found, state, pending)
    if asked is not None and found.command == c.Yes() and re.match(r"\W*(no|not)\b", words):
        return repeated(pending, state)
    if asked is not None and found.command == asked:
        return to_yes_or_no(c.Yes(), asked, state) or repeated(pending, state)
    if asked is not None and isinstance(found.command, c.Yes | c.No):
        return to_yes_or_no(found.command, asked, state) or repeated(pending, state)
    if isinstance(found.command, c.Pause):
        return Understood((found.command,), pending=pending)
    return asks_first(found.command, state) if found.asks else _freely(found.command, state, asked)


_NO_BUT = r"\W*no\W+(?:(?:sorry|wait|actually|rather)\W+)*(?P<rest>.+)"


def _in_its_place(words: str, state: State) -> c.Command | None:
    """The phrase after a no to what was asked: "no, it cups"; None where there is none."""
    found = re.fullmatch(_NO_BUT, words, re.IGNORECASE)
    if found is None:
        return None
    rest = found["rest"]
    command = meant_here(phrases.read(rest) or phrase_in(rest), rest, state)
    return None if isinstance(command, c.Yes | c.No | c.Answer | c.Undo | c.Skip) else command


def _mended(
    words: str, command: c.Command | None, state: State, asked: c.Command | None
) -> Understood | None:
    """A yes or no to what is in doubt, or the right number in place of the last one told."""
    if state.doubt is not None and (agrees(words) or declines(words)):
        return Understood((c.Yes() if agrees(words) else c.No(),))
    right = corrects(words) if state.doubt is not None else corrects_last(words)
    if right is None or command is not None:
        return None
    if asked is not None:
        return to_yes_or_no(c.No(right), asked, state) or repeated(asked, state)
    told = state.doubt is not None or state.last is not None
    return Understood((c.No(right),)) if told else None


_TELLS_DUE = (c.Ask(c.Asked.AGAIN), c.Ask(c.Asked.WHERE))
"""Their answers end with what stands open."""


def _in_a_clause(words: str, state: State) -> Match | None:
    """The meaning of the last clause of a text; in the interview also an answer in the first."""
    if (last := last_clause(words)) is not None:
        return Match(last, asks=changes_piece(last, state))
    first = first_clause(words) if state.question is not None else None
    return Match(first) if isinstance(first, _ANSWERS) else None


def _freely(command: c.Command, state: State, asked: c.Command | None) -> Understood:
    """The result of a meaning that is done at once; what stands open is said again after it."""
    if (wanted := mending(command, state)) is not None:
        done = () if isinstance(command, c.Help) else (command,)
        return Understood(done, asked_further.number(wanted), wanted)
    stays = not changes_piece(command, state) and not isinstance(command, c.Leave)
    if asked is not None and stays:
        return Understood((command,), asked_first.question(asked, state), asked)
    tells = isinstance(command, c.Ask | c.Explain | c.Speak | c.Help) and command not in _TELLS_DUE
    if state.doubt is not None and tells:
        return Understood((command,), due.now(state))
    return told(command, state)


def _several(answers: Sequence[c.Command | Wanted]) -> Understood:
    """Several answers in one sentence; a number that one lacks is asked for."""
    lacks = [one for one in answers if isinstance(one, Wanted)]
    commands = tuple(one for one in answers if not isinstance(one, Wanted))
    if not lacks:
        return Understood(commands)
    return Understood(commands, asked_further.number(lacks[0]), lacks[0])


def _not_understood(found: Match, state: State, pending: Pending | None) -> Understood:
    """Reply to words that fit nothing: the open question again, or what is near."""
    if pending is not None:
        return repeated(pending, state)
    if state.doubt is not None:
        return Understood(say=due.now(state), unheard=True)
    near = asked_further.nearest(found.near, only=found.nearest is not None)
    if found.nearest is not None and state.question is None:
        return Understood(say=near, pending=found.nearest, unheard=True)
    open_ = due.now(state) if state.question is not None else ""
    return Understood(say=joined(near, open_) if open_ else near, unheard=True)
