"""Free wording by voice: texts that were recognised without the phrases."""

from __future__ import annotations

from dataclasses import replace

from pattern.session import commands as c
from pattern.session.state import State
from voice.words import phrases
from voice.words.free.clear import clear
from voice.words.free.matching import Match, changes_piece, match
from voice.words.free.pain import hurts, says_more
from voice.words.free.resuming import resumes


def match_spoken(text: str, state: State, asked: c.Command | None = None) -> Match:
    """As `match`, for a text that was recognised without the phrases.

    A phrase of the table counts as free wording, since it was not heard as that phrase. What ends
    the call is asked about as well.
    """
    command = phrases.read(text)
    if command is None and hurts(text) and not says_more(text):
        return Match(c.Ask(c.Asked.PAIN), chance=1.0)
    if state.paused and resumes(text):
        return Match(c.Resume(), chance=1.0)
    if command is not None:
        answers = isinstance(command, c.Yes | c.No)
        found = Match(command, changes_piece(command, state) and not answers, chance=1.0)
    else:
        by_rule = clear(text, state)
        if isinstance(by_rule, Match) and by_rule.command is not None:
            found = replace(by_rule, chance=1.0)
        else:
            found = match(text, state, asked)
    return replace(found, asks=found.asks or isinstance(found.command, c.Leave))
