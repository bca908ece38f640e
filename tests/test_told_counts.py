"""Counts, repeats, rounds, brims and fibres as makers tell them. Words: common usage, no source."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.shape.rounds import Round, Stage
from pattern.trade.lengths import Amount, Unit
from tests.pieces import Story, begun, stories
from tests.wordings.places import others, said
from voice.caller.reply import Verdict
from voice.words.free.matched import Match
from voice.words.free.told_counts import told_count
from voice.words.free.vague_changes import brim_of
from voice.words.spoken_numbers import say_integer

TOLD = st.sampled_from(
    ["i have only got {} there", "i make it {}", "oops, i have got {} now", "{} i make it"]
)


@given(stories(), TOLD, st.integers(3, 300))
def test_a_count_is_never_taken_for_its_lack(story: Story, told: str, count: int) -> None:
    words = told.format(say_integer(count)).replace(",", "")
    found = told_count(words, story.state)
    assert found is None or found == Match(c.Counted(count), asks=True)


@given(stories(), st.data())
def test_of_two_numbers_the_repeats_done_are_the_first(story: Story, data: st.DataObject) -> None:
    offered = story.state.offered
    assume(offered is not None and offered.sets > 1)
    assert offered is not None
    done = data.draw(st.integers(1, offered.sets - 1))
    words = f"i have done {say_integer(done)} of the {say_integer(offered.sets)}"
    assert told_count(words, story.state) == Match(c.Sets(done), asks=True)


@pytest.mark.parametrize("told", ["{} of the {}", "i did {} sets out of {} repeats so far"])
@pytest.mark.parametrize(("done", "sets"), [(1, 28), (21, 32), (9, 10), (100, 121)])
def test_numbers_of_several_words_are_read_whole(told: str, done: int, sets: int) -> None:
    places = tuple(range(0, 3 * sets, 3))
    state = replace(begun(), offered=Round(4, Stage.CROWN, 3 * sets, 4 * sets, places))
    words = told.format(say_integer(done), say_integer(sets))
    assert told_count(words, state) == Match(c.Sets(done), asks=True)


@pytest.mark.parametrize(
    "words", ["did two rounds", "I'm two rounds ahead", "I worked two rounds while you were quiet"]
)
def test_rounds_worked_ahead_are_never_ripped(words: str) -> None:
    """Either the place is told, or it is asked about the round that is due."""
    before, (reply,) = said("R", words)
    assert reply.asks == c.Next() or reply.command == c.Ask(c.Asked.WHERE)
    assert reply.state.piece == before.piece


@given(st.integers(2, 12), st.sampled_from(["a {} inch brim", "{} inch brim please", "brim of {}"]))
def test_the_width_of_a_brim_is_its_number(width: int, told: str) -> None:
    found = brim_of(told.format(say_integer(width)))
    unit = Unit.INCH if "inch" in told else None
    assert found == c.Change("brim_mm", Amount(width, unit=unit))
    assert brim_of(f"is the brim {say_integer(width)} inches now") is None


@pytest.mark.parametrize("place", ["R", "S", "I-head"])
def test_a_brim_told_by_its_number_is_not_lost(place: str) -> None:
    before, (reply,) = said(place, "a three inch brim please")
    assert (reply.asks or reply.command) == c.Change("brim_mm", Amount(3.0, unit=Unit.INCH))
    if place == "I-head":
        assert reply.state.settings.brim == pytest.approx(76.2)
    else:
        assert reply.state.piece == before.piece


def test_a_brim_is_taken_with_the_shape() -> None:
    _, (reply,) = said("I-head", "a bucket hat, two inch brim")
    assert reply.state.settings.brim == pytest.approx(50.8)
    assert reply.state.settings.shape.name == "bucket hat"


def test_a_wish_is_no_report() -> None:
    _, (reply,) = said("S", "I want it to come down over her ears")
    assert isinstance(reply.asks, c.Change)
    assert reply.asks.key == "depth_mm"


@pytest.mark.parametrize("work", ["finished", "count twelve", "okay that's me finished that round"])
def test_in_a_pause_a_yes_after_words_of_work_goes_on(work: str) -> None:
    _, (_, _, back) = said("R", "pause", work, "yes")
    assert not back.state.paused


def test_a_yes_may_follow_what_was_asked() -> None:
    _, (asks, done) = said("R", "only got forty there", "forty, yes")
    assert done.command == asks.asks == c.Counted(40)
    _, (_, left) = said("R", "only got forty there", "not forty, yes")
    assert not isinstance(left.command, c.Counted)


@pytest.mark.parametrize(("words", "fibre"), [("real wool", "wool"), ("it's acrylic", "acrylic")])
def test_a_fibre_is_told_by_its_name(words: str, fibre: str) -> None:
    _, (reply,) = said("F", words)
    assert reply.command == c.Choose("fibre", fibre)


@pytest.mark.parametrize("words", ["gotta go, back later", "I have to run"])
def test_whoever_has_to_go_leaves(words: str) -> None:
    _, (reply,) = said("R", words)
    assert reply.command == c.Leave()


@pytest.mark.parametrize(
    ("words", "command"),
    [
        ("could you speak up a bit", c.Speak(c.Manner.LOUDER)),
        ("my tea's ready, stop for now", c.Pause()),
        ("stop here for a while", c.Pause()),
    ],
)
def test_louder_and_a_stop_in_plain_words(words: str, command: c.Command) -> None:
    before, (reply,) = said("R", words)
    assert reply.command == command
    assert reply.state.piece == before.piece


def test_terms_are_asked_about_in_words() -> None:
    _, (reply,) = said("R", "I'd like UK terms")
    assert reply.verdict is Verdict.ASKED
    assert reply.say == "UK names of stitches? Yes or no."


def test_nothing_of_it_is_read_in_talk() -> None:
    state = begun()
    assert [words for words in others() if told_count(words, state) or brim_of(words)] == []


@pytest.mark.parametrize("place", ["R", "S", "B"])
def test_a_brim_may_be_left_off_even_while_it_is_worked(place: str) -> None:
    _, (asks, done) = said(place, "no brim after all", "yes")
    assert asks.verdict is Verdict.ASKED
    assert done.state.settings.brim == 0
    assert done.say
