"""A lost place: whatever round is on the hook, what is seen of it leads back to it."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.forecast.find_place import by_count, by_gap, gaps
from pattern.forecast.rest_of_piece import rounds_ahead, rounds_made
from pattern.session import commands as c
from pattern.session.refusals import Reason
from pattern.session.state import State
from pattern.shape.rounds import Stage, spaced_round
from tests.hats import why_refused
from tests.pieces import NEXT, Story, begun, stories, told
from tests.properties import examples
from voice.sentences.lost import answer
from voice.words.phrases import read
from voice.words.spoken_numbers import say_integer


def crown(rounds: int = 10) -> State:
    return told(begun(), *[NEXT] * rounds)


def laid_out(stitches: int, increases: int) -> set[int]:
    """Plain stitches between increases, by laying the round's stitches out one by one."""
    round_ = spaced_round(2, Stage.CROWN, stitches, increases)
    row = "".join("v" if at in round_.places else "." for at in range(stitches))
    return {len(run) for run in re.findall(r"(?<=v)\.*(?=v)", row + row)}


@given(st.integers(3, 130), st.integers(1, 20))
def test_gaps_are_those_that_can_be_seen(stitches: int, increases: int) -> None:
    increases = min(stitches, increases)
    round_ = spaced_round(2, Stage.CROWN, stitches, increases)
    assert gaps(round_) == laid_out(stitches, increases)


def test_each_round_of_an_even_crown_is_found_by_its_gap() -> None:
    """Round n of a crown of 6 has n - 2 plain stitches between its increases: common practice."""
    state = crown(10)
    for number in range(2, 11):
        assert by_gap(state, number - 2).worked == (number,)
        assert by_count(state, 6 * number).worked == (number,)


@settings(max_examples=examples(40))
@given(stories(), st.data())
def test_what_is_seen_of_a_round_finds_it(story: Story, data: st.DataObject) -> None:
    state = story.state
    worked, ahead = rounds_made(state), rounds_ahead(state)[:6]
    if not worked:
        return
    which = data.draw(st.integers(0, len(worked) - 1))
    counted = [made.counted for made in state.rounds_made()][::-1][which]
    assert which + 1 in by_count(state, counted or worked[which].after).worked
    if len(seen := gaps(worked[which])) == 1:
        assert which + 1 in by_gap(state, *seen).worked
    if ahead:
        assert ahead[0].number in by_count(state, ahead[0].after).ahead


def test_the_answer_is_an_offer_that_leads_there() -> None:
    state = crown(10)
    said = answer(state, c.LostAt(6, between=True))
    assert said == "That is round eight; say ripped back two rounds to go there."
    command = read("ripped back two rounds")
    assert command is not None
    assert told(state, command).piece.finished == 8
    assert answer(state, c.LostAt(60)).endswith("the last one done: that is where you are.")
    assert "the one called now: say next" in answer(state, c.LostAt(66))
    assert answer(state, c.LostAt(72)) == "That would be round twelve; say next twice to go there."
    assert answer(state, c.LostAt(500)).startswith("No round near here has five hundred stitches")


def test_sides_that_look_alike_are_said_to_be_so() -> None:
    state = crown()
    while state.piece.side_rounds < 5:
        state = told(state, c.Skip(), NEXT)
    first = state.piece.finished - 5
    said = answer(state, c.LostAt(state.piece.stitches))
    assert "that is where you are" in said
    assert f"Rounds {say_integer(first)} to" in said


@pytest.mark.parametrize(
    ("state", "command", "reason"),
    [
        (State(), c.LostAt(60), Reason.STILL_SETUP),
        (begun(), c.LostAt(6), Reason.TOO_EARLY),
        (crown(), c.LostAt(2), Reason.COUNT_IMPOSSIBLE),
        (crown(), c.LostAt(0), Reason.COUNT_IMPOSSIBLE),
        (crown(), c.LostAt(-1, between=True), Reason.COUNT_IMPOSSIBLE),
        (told(crown(), c.Pause()), c.LostAt(60), Reason.PAUSED),
    ],
)
def test_what_cannot_be_seen_is_refused(state: State, command: c.LostAt, reason: Reason) -> None:
    assert why_refused(state, command) is reason


@pytest.mark.parametrize(
    ("said", "command"),
    [
        ("I see ten between increases", c.LostAt(10, between=True)),
        ("ten plain between the increases", c.LostAt(10, between=True)),
        ("I count sixty four round", c.LostAt(64)),
        ("I count 64 stitches all round", c.LostAt(64)),
        ("which round has sixty four", c.LostAt(64)),
        ("I count sixty four", c.Counted(64)),
    ],
)
def test_what_makers_say_when_they_are_lost(said: str, command: c.Command) -> None:
    assert read(said) == command
