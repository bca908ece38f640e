"""What is listened for now: phrases are left out only where the session would refuse them."""

from __future__ import annotations

import pytest

from pattern.commands import Answer, Skip
from pattern.decisions import decide
from pattern.refusals import Refused
from pattern.rounds import Stage
from pattern.session import fold
from pattern.settings import QUESTIONS
from pattern.state import State
from voice.grammar import parse, sentences
from voice.narrowing import groups_now
from voice.phrases import PHRASES, RULES, Group, read

SLOTS = RULES | dict.fromkeys(("length", "integer", "few"), parse("six"))


def interview() -> list[State]:
    """A state for each question."""
    states = [State()]
    while states[-1].question is not None:
        states.append(fold(states[-1], decide(states[-1], Skip())))
    return states[:-1]


def test_no_reading_is_listened_for_in_the_interview_and_none_would_be_taken() -> None:
    states = interview()
    assert len(states) >= len(QUESTIONS) // 2
    readings = [
        " ".join(words)
        for row in PHRASES if row.group is Group.READING
        for form in row.forms
        for words in sentences(parse(form), SLOTS)
    ]  # fmt: skip
    assert readings
    for state in states:
        assert state.stage is Stage.SETUP
        assert Group.READING not in groups_now(state)
        for words in readings:
            command = read(words)
            assert command is not None, words
            with pytest.raises(Refused):
                decide(state, command)


def test_a_bare_number_is_listened_for_wherever_something_can_be_asked() -> None:
    assert isinstance(read("six"), Answer)
    for stage in Stage:
        paused_or_done = stage is Stage.DONE
        assert (Group.ANSWER in groups_now(State(stage=stage))) is not paused_or_done
