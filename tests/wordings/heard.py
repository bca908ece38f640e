"""What comes of a wording that is spoken: the real recogniser hears it, where the session is."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from pattern.session.commands import Command
from tests.wordings.judging import NO_PHRASE, Outcome, alike, is_there, is_unmoved, meant
from tests.wordings.places import Case, caller_at
from voice.caller.json_reply import as_data
from voice.caller.reply import Reply
from voice.hearing.context import context_of
from voice.hearing.evidence import Action, Verdict
from voice.hearing.listening import Hearing, Whole
from voice.hearing.utterance_part import Part
from voice.recognisers.chosen import open_recogniser
from voice.recognisers.net.learning.speakers import Voice, speak
from voice.sound.endpoint import Segment
from voice.sound.ports import RATE_HZ, Samples

VOICES = (Voice("flite", "slt"), Voice("flite", "awb"), Voice("flite", "kal16"))
"""Voices of recorded people, to which nothing of free wording was fitted."""


@cache
def _hearing() -> Hearing:
    return Hearing(open_recogniser())


def heard(case: Case, samples: Samples) -> tuple[Verdict, Outcome]:
    """The verdict on a wording that sounds, said alone in a quiet room, and what comes of it."""
    context = context_of(caller_at(case.place).state)
    evidence = _hearing().listen(samples, context, Part.WHOLE)
    seconds = len(samples) / RATE_HZ
    segment = Segment(0.0, seconds, seconds, samples, waited=True)
    found = Whole().heard(segment, evidence, context, _hearing().written)
    if found.action is Action.SILENT or found.command is None:
        return found, Outcome.MISSED
    if found.action is Action.ASK:
        return found, asked(case, found.candidates)
    return found, done(case, found.command)


def done(case: Case, command: Command) -> Outcome:
    """The outcome of a command that is done."""
    caller = caller_at(case.place)
    before = as_data(Reply("", caller.state))
    after = as_data(caller.take(command))
    if case.phrase == NO_PHRASE or alike(after, meant(case)):
        return Outcome.UNDERSTOOD
    return Outcome.OTHER if is_unmoved(after, before) else Outcome.WRONG


def asked(case: Case, candidates: Iterable[Command]) -> Outcome:
    """Whether one of the things asked about is what was meant."""
    if case.phrase == NO_PHRASE:
        return Outcome.ASKED
    replies = (caller_at(case.place).take(command) for command in candidates)
    there = any(is_there(as_data(reply), meant(case)) for reply in replies)
    return Outcome.ASKED if there else Outcome.WRONG_QUESTION


def spoken(case: Case, number: int) -> Samples:
    """A wording by one of the voices, in their turn."""
    return speak(VOICES[number % len(VOICES)], [case.said])[case.said]
