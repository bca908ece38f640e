"""What is listened for now: phrases are left out only where the session would refuse them."""

from __future__ import annotations

from contextlib import suppress

import pytest

from pattern.session import commands as c
from pattern.session.commands import Answer, Begin, Choose, Next, Skip
from pattern.session.decisions import decide
from pattern.session.events import QuestionAnswered
from pattern.session.folding import fold
from pattern.session.refusals import Refused
from pattern.session.state import State
from pattern.shape.catalogue import SHAPES
from pattern.shape.interview import FIXED_BY_RING, QUESTIONS
from pattern.shape.rounds import Stage
from voice.hearing.narrowing import groups_now
from voice.sentences.examples import example
from voice.words.grammar import parse, sentences
from voice.words.phrases import PHRASES, RULES, Group, read

SLOTS = RULES | dict.fromkeys(("length", "integer", "few"), parse("six"))


def interview() -> list[State]:
    """A state for each question."""
    states = [fold(State(), decide(State(), c.EveryQuestion()))]
    while states[-1].question is not None:
        states.append(fold(states[-1], decide(states[-1], Skip())))
    return states[:-1]


def test_a_reading_is_not_listened_for_in_the_interview_and_taken_only_as_an_answer() -> None:
    states = interview()
    assert len(states) >= len(QUESTIONS) // 2
    texts = [
        " ".join(words)
        for row in PHRASES
        if row.group is Group.READING
        for form in row.forms
        for words in sentences(parse(form), SLOTS)
    ]
    readings = {words: read(words) for words in texts}
    assert readings
    for state in states:
        assert state.stage is Stage.SETUP
        assert Group.READING not in groups_now(state)
        for words, command in readings.items():
            assert command is not None, words
            with suppress(Refused):
                answers = [e for e in decide(state, command) if isinstance(e, QuestionAnswered)]
                size = {c.Kind.BRIM: "brim_mm", c.Kind.DEPTH: "depth_mm", c.Kind.AROUND: "head_mm"}
                kind = command.kind if isinstance(command, c.Measured) else None
                own = size.get(kind, "") if kind is not None else ""
                assert {e.key for e in answers} <= {own, "unit", state.question}, words


def test_what_the_first_round_fixes_can_be_said_until_it_is_worked() -> None:
    ring = fold(State(), decide(State(), Begin()))
    rows = [(row, read(example(form))) for row in PHRASES for form in row.forms if "<" not in form]
    fixed = {
        (row.group, command)
        for row, command in rows
        if isinstance(command, Choose) and command.key in FIXED_BY_RING
    }
    assert {command.value for _, command in fixed} >= {shape.name for shape in SHAPES}
    assert ring.stage is Stage.RING
    worked = fold(ring, decide(ring, Next()))
    for group, command in fixed:
        assert group in groups_now(State())
        assert group in groups_now(ring)
        if command.key != "stitch":  # some are no stitch in US terms
            decide(ring, command)
        assert group not in groups_now(worked)
        with pytest.raises(Refused):
            decide(worked, command)


def test_a_bare_number_is_listened_for_wherever_something_can_be_asked() -> None:
    assert isinstance(read("six"), Answer)
    for stage in Stage:
        paused_or_done = stage is Stage.DONE
        assert (Group.ANSWER in groups_now(State(stage=stage))) is not paused_or_done
