"""A number alone means the same typed and spoken; and which commands leave the piece as it is."""

from __future__ import annotations

from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.session import decisions
from pattern.session.bare_number import meant
from pattern.session.decisions import decide, leaves_piece
from pattern.session.folding import QUIET, Turn
from pattern.session.refusals import Reason, Refused
from pattern.session.state import State
from pattern.trade.lengths import Amount, Unit
from tests.pieces import COMMANDS, NEXT, Story, begun, stories, told
from voice.hearing.session_expectation import reader_in
from voice.words.phrases import read
from voice.words.spoken_numbers import say_integer


def what_comes(state: State, command: c.Command) -> Turn | Reason:
    """The events of a command, or why it is refused."""
    try:
        return decide(state, command)
    except Refused as refused:
        return refused.reason


@given(stories(), st.integers(1, 99), st.sampled_from(["{}", "measured {}", "{} grams"]))
def test_a_number_alone_does_the_same_typed_and_spoken(
    story: Story, number: int, form: str
) -> None:
    state, words = story.state, form.format(say_integer(number))
    typed, spoken = read(words), reader_in(state)(words)
    assert typed is not None
    assert spoken is not None
    assert what_comes(state, spoken) == what_comes(state, typed)


WANTING = told(begun(), *[NEXT] * 10)


def test_a_number_alone_is_the_reading_that_is_wanted() -> None:
    assert WANTING.want is not None
    reading = c.Measured(Amount(11.0, unit=Unit.CM), WANTING.want.kind, WANTING.want.stitches)
    assert meant(WANTING, c.Answer(reading.amount)) == reading
    assert meant(WANTING, c.Measured(reading.amount)) == reading


def test_a_weight_alone_is_that_of_the_yarn_left_whatever_is_wanted() -> None:
    grams = Amount(40.0, unit=Unit.GRAM)
    assert meant(WANTING, c.Answer(grams)) == c.Weighed(grams)
    assert reader_in(WANTING)("forty grams") == c.Weighed(grams)


@pytest.mark.parametrize("unit", [Unit.METRE, Unit.YARD])
@pytest.mark.parametrize("kind", [c.Answer, c.Measured])
def test_a_length_of_yarn_alone_is_no_reading(
    unit: Unit, kind: type[c.Answer] | type[c.Measured]
) -> None:
    assert WANTING.want is not None
    assert what_comes(WANTING, kind(Amount(6.0, unit=unit))) is Reason.WRONG_UNIT


@given(stories(), st.integers(0, 99), st.sampled_from([*Unit]))
def test_a_number_with_any_unit_is_taken_or_refused(story: Story, number: int, unit: Unit) -> None:
    """Nothing else is raised."""
    for command in (c.Answer(Amount(number, unit=unit)), c.Measured(Amount(number, unit=unit))):
        what_comes(story.state, command)


def test_every_command_has_one_place_in_the_table() -> None:
    """A new one is put into one of the two, or there is no decision on it."""
    kinds = set(get_args(c.Command))
    assert decisions._BESIDE.keys() | decisions._CHANGING.keys() == kinds
    assert not decisions._BESIDE.keys() & decisions._CHANGING.keys()


@given(stories(), COMMANDS)
def test_what_leaves_the_piece_makes_nothing_but_quiet_events(
    story: Story, command: c.Command
) -> None:
    _leaves_it(story.state, command)


def _leaves_it(state: State, command: c.Command) -> None:
    turn = what_comes(state, command)
    if leaves_piece(command) and not isinstance(turn, Reason):
        assert all(isinstance(event, QUIET) for event in turn)


BESIDE = (
    c.Ask(c.Asked.WHERE),
    c.Help(),
    c.Fabric(c.Cloth.GAPS),
    c.HeadSize(None),
    c.CountedIn(7),
    c.LostAt(30),
    c.Wording(brief=True),
    c.Speak(c.Manner.SLOWER),
    c.Signal(c.Signs.BOTH),
    c.Rests(30),
    c.RemindAfter(60),
    c.Pause(),
    c.Resume(),
    c.Leave(),
    c.OwnWidth(c.OwnUnit.FINGER, Amount(18.0, 1.0, Unit.MM)),
    c.Decorate(c.Decoration.STIFFENING),
)


@pytest.mark.parametrize("state", [State(), begun(), WANTING], ids=["setup", "ring", "crown"])
@pytest.mark.parametrize("command", BESIDE, ids=lambda command: type(command).__name__)
def test_each_that_leaves_the_piece_does_so(state: State, command: c.Command) -> None:
    assert leaves_piece(command)
    _leaves_it(state, command)


def test_all_of_them_are_tried() -> None:
    assert {type(command) for command in BESIDE} | {c.Explain} == set(decisions._BESIDE)
