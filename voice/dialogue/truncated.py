"""What is made of an utterance before which something may have been said that was not heard."""

from __future__ import annotations

from dataclasses import replace

from pattern.session.commands import Answer, Command, Measured
from voice.hearing.listening import Action, Heard
from voice.hearing.utterance_part import Part
from voice.recognisers.recogniser import Hypothesis
from voice.sentences.hearing import reading
from voice.words.phrases import read


def understood(what: Heard, part: Part) -> Heard:
    """What was heard; of a part of an utterance nothing is understood.

    Of what may be the rest of one, a number alone is not taken for a reading: it is asked about as
    one, since it may have been the end of a count.
    """
    if not part.complete:
        return replace(what, text="", command=None, action=Action.SILENT, candidates=())
    if part is Part.WHOLE or what.command is None:
        return what
    offered = [(Hypothesis(what.text, what.score), what.command)]
    if what.action is Action.ASK:
        offered = list(zip(what.alternatives, what.candidates, strict=True))
    asked = tuple(_with_kind(found, command) for found, command in offered)
    if asked == tuple(found for found, _ in offered):
        return what
    commands = tuple(command for _, command in offered)
    return replace(what, action=Action.ASK, alternatives=asked, candidates=commands)


def _with_kind(found: Hypothesis, command: Command) -> Hypothesis:
    """Words with what they measure, where they are a number alone that is taken for a reading."""
    if isinstance(command, Measured) and isinstance(read(found.words), Answer):
        return replace(found, words=reading(found.words, command))
    return found
