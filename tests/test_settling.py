"""A question of its own is settled by what was asked, and never becomes another thing."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.trade.lengths import Amount, Unit
from tests.openings import opening
from voice.hearing.disambiguation import by_number, picked
from voice.hearing.session_expectation import reader_in
from voice.words.phrases import read
from voice.words.spoken_numbers import say_integer

ONE_NUMBER = (
    "across {}",
    "around {}",
    "{} deep",
    "measured {}",
    "ten stitches are {}",
    "count {}",
    "count {} in this round",
    "{} sets",
    "{} more sets",
    "ripped back {} rounds",
    "which round has {}",
    "{} between the increases",
    "{} grams left",
    "i have {} balls",
    "head {}",
    "hook {}",
    "class {}",
    "{} smaller",
    "{} bigger",
    "deeper by {}",
    "{} narrower",
    "also write it for {}",
    "another one of {}",
    "another one of class {}",
    "rest every {} minutes",
    "i can pinch {}",
    "the string is {} fingers too long",
    "{} fingers deep",
    "my finger is {}",
    "{}",
)
"""What is said with one number, which "no" may put right."""
OTHER = (
    "next",
    "skip",
    "undo",
    "another one",
    "a girl of six",
    "six months old",
    "ask again after two minutes",
    "ask again after forty seconds",
    "no brim",
    "swatch twenty stitches in fourteen",
    "count thirty after three sets",
)
"""What has no number, two, or one in a unit that is not kept."""
NUMBERS = st.integers(1, 99)


def command(form: str, number: int = 1) -> c.Command:
    said = read(form.format(say_integer(number)))
    assert said is not None, form
    return said


@given(st.sampled_from(ONE_NUMBER), NUMBERS, NUMBERS)
def test_no_with_a_number_puts_it_into_what_was_asked(form: str, asked: int, right: int) -> None:
    no = command("no {}", right)
    assert picked((command(form, asked),), no) == command(form, right)


@given(st.sampled_from(OTHER), NUMBERS)
def test_no_with_a_number_picks_nothing_where_no_number_was_asked(form: str, right: int) -> None:
    asked = command(form)
    taken = picked((asked,), command("no {}", right))
    assert taken in {None, asked}
    assert taken is None or say_integer(right) in form, "its own number"


@given(
    st.lists(st.sampled_from((*ONE_NUMBER, *OTHER, "yes", "no")), min_size=1, max_size=2), NUMBERS
)
def test_what_was_asked_said_itself_is_picked_and_no_alone_nothing_else(
    forms: list[str], number: int
) -> None:
    asked = tuple(command(form, number) for form in forms)
    for each in asked:
        assert picked(asked, each) == each
    assert picked(asked, c.No()) == (c.No() if c.No() in asked else None)


@given(st.sampled_from(ONE_NUMBER + OTHER), st.sampled_from(ONE_NUMBER + OTHER), NUMBERS, NUMBERS)
def test_no_with_a_number_never_becomes_another_kind_of_thing(
    first: str, second: str, asked: int, right: int
) -> None:
    pair = command(first, asked), command(second, asked)
    taken = picked(pair, command("no {}", right))
    assert taken is None or type(taken) in map(type, pair)


def test_every_command_with_a_number_is_among_them() -> None:
    tried = {type(command(form)) for form in ONE_NUMBER + OTHER}
    numbered = {
        kind
        for kind in get_args(c.Command)
        if any(
            "Amount" in str(field.type) or field.name in {"count", "rounds", "every_min"}
            for field in fields(kind)
        )
    }
    assert numbered - {c.No} <= tried


def test_a_number_alone_or_no_keeps_the_unit_that_was_asked() -> None:
    asked = read("four inches around")
    assert asked is not None
    assert picked((asked,), c.No(Amount(5.0))) == c.Measured(
        Amount(5.0, unit=Unit.INCH), c.Kind.AROUND
    )
    mm = Amount(50.0, unit=Unit.MM)
    assert picked((asked,), c.No(mm)) == c.Measured(mm, c.Kind.AROUND)


@pytest.mark.parametrize("said", ["around sixty", "sixty deep", "count sixteen after two sets"])
def test_what_says_its_kind_is_no_answer_to_another(said: str) -> None:
    asked = command("count {}", 60), command("count {}", 16)
    assert picked(asked, command(said)) is None


@pytest.fixture(scope="module")
def wanting() -> State:
    """A state in which a reading is wanted."""
    state = fold(State(), opening(State(), {"head_mm": 560.0, "yarn": 4, "hook_mm": 5.0}))
    while state.want is None or state.want.kind is c.Kind.LOOK:
        state = fold(state, decide(state, c.Next()))
    return state


def test_while_it_asks_a_number_alone_answers_and_is_no_reading(wanting: State) -> None:
    asked = command("count {}", 60), command("count {}", 16)
    assert wanting.want is not None
    plain, asking = reader_in(wanting), reader_in(wanting, asked)
    reading = c.Measured(Amount(60.0), wanting.want.kind, wanting.want.stitches)
    assert plain("sixty") == plain("measured sixty") == reading
    assert asking("sixty") == asking("measured sixty") == asked[0]
    assert asking("sixteen") == asked[1]
    assert asking("around sixty") == replace(reading, kind=c.Kind.AROUND)
    assert asking("seventy") == plain("seventy")
    assert by_number(asked, command("around {}", 60)) is None
