"""Free wording by voice: texts that were recognised without the phrases."""

from __future__ import annotations

import re
from dataclasses import replace

from pattern.session import commands as c
from pattern.session.decisions import decide, only_asks
from pattern.session.folding import Turn
from pattern.session.refusals import Refused
from pattern.session.state import State
from voice.words import phrases
from voice.words.free.around_phrases import phrase_in
from voice.words.free.clear import clear
from voice.words.free.matched import Match
from voice.words.free.matching import answers_what_is_open, changes_piece, matches
from voice.words.free.own_corrections import corrected_in_breath
from voice.words.free.pain import hurts, says_more
from voice.words.free.resuming import resumes, stays_away
from voice.words.free.told_at_once import told_aloud
from voice.words.free.two_things import two_things
from voice.words.free.weights import NOTHING, Weights, learnt

_OF_THINGS = r"(?:no )?not (?:that|this|the other) one(?: .*)?"
"""Said of things that are seen, of which the program shows none."""
_ANSWERS = c.Answer | c.Change | c.Choose | c.HeadOf
"""Phrases that answer a question of the interview."""


def match_spoken(
    text: str, state: State, asked: c.Command | None = None, weights: Weights | None = None
) -> tuple[Match, ...]:
    """As `matches`, for a text that was recognised without the phrases.

    A phrase of the table counts as free wording, since it was not heard as that phrase; as expected
    in the interview alone. What ends the call is asked about as well.
    """
    text = corrected_in_breath(text)
    nothing = (weights or learnt()).chances(text)[NOTHING]
    found = _matches(text, state, asked, weights)
    return tuple(
        replace(one, asks=_asks(one, state), nothing=nothing, turn=one.turn or _turn(one, state))
        for one in found
    )


def _turn(one: Match, state: State) -> Turn | None:
    """The events that a meaning read by rule comes to."""
    if one.command is None or one.refused:
        return None
    try:
        return decide(state, one.command)
    except Refused:
        return None


def _asks(one: Match, state: State) -> bool:
    """Whether it is asked about first: not where the session itself asks, but before the end."""
    if one.command is None or isinstance(one.command, c.Leave):
        return one.command is not None
    return one.asks and not only_asks(state, one.command)


def _matches(
    text: str, state: State, asked: c.Command | None, weights: Weights | None
) -> tuple[Match, ...]:
    if re.fullmatch(_OF_THINGS, text):
        return ()
    command = phrases.read(text) or phrase_in(text)
    if command is None and hurts(text) and not says_more(text):
        return (Match(c.Ask(c.Asked.PAIN), chance=1.0),)
    if state.paused and resumes(text):
        return (Match(c.Resume(), chance=1.0),)
    if state.paused and stays_away(text):
        return (Match(c.Ask(c.Asked.AGAIN), chance=1.0),)
    if command is not None:
        answers = isinstance(command, c.Yes | c.No)
        asks = changes_piece(command, state) and not answers
        expected = state.question is not None and isinstance(command, _ANSWERS)
        return (Match(command, asks, chance=1.0, expected=expected),)
    if told := told_aloud(text, state):
        return (Match(told[0], chance=1.0, expected=True),)
    if (both := two_things(text, state, aloud=True)) and not both[0].asks:
        return (replace(both[0], chance=1.0, expected=True),)
    by_rule = clear(text, state)
    if isinstance(by_rule, Match):
        if by_rule.command is None:
            return ()
        expected = answers_what_is_open(by_rule.command, state) or state.question is not None
        return (replace(by_rule, chance=1.0, expected=expected),)
    return matches(text, state, asked, weights)
