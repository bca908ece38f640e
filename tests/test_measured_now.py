"""A length that was just measured is the length that is told of now, however odd it was."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.shape.rounds import Stage
from tests.properties import examples
from tests.wordings.places import caller_at
from voice.caller.caller import Caller
from voice.words.spoken_numbers import say_integer

SAID = {
    "M": ("across {}", st.integers(8, 24)),
    "A": ("around {}", st.integers(40, 75)),
    "S": ("depth {}", st.integers(8, 19)),
    "B": ("brim {}", st.integers(1, 5)),
}


def measured(place: str, words: str) -> Caller:
    """A caller that was told a reading, and kept it."""
    caller = caller_at(place)
    caller.hear(words)
    if caller.state.doubt is not None:
        caller.hear("yes")
    return caller


@pytest.mark.parametrize("place", SAID)
@settings(max_examples=examples(60))
@given(st.data())
def test_the_size_now_is_the_one_that_was_measured(place: str, data: st.DataObject) -> None:
    """Doubted and kept, or believed at once: one length, until the next round is worked."""
    form, lengths = SAID[place]
    number = data.draw(lengths)
    caller = measured(place, form.format(number))
    if caller.state.offered is None:
        return
    taken = next(caller.state.readings_taken())
    if taken.after_round != caller.state.piece.finished:
        return  # rounds that misfit were ripped back: it tells of no round that is there
    told = caller.hear("how big should it be").say
    assert f"{say_integer(number)} centimetre" in told.casefold()


@pytest.mark.parametrize("number", [4, 5, 7])
def test_a_brim_that_ends_with_its_reading_is_as_wide_as_that(number: int) -> None:
    caller = caller_at("B")
    said = [caller.hear(f"brim {number}").say]
    while caller.state.stage is Stage.BRIM:
        said.append(caller.hear("yes" if caller.state.doubt else "finish now").say)
    ends = [words for words in said if "hat was the last round" in words]
    brim = say_integer(number)
    in_one_breath = f"{brim} of brim: that was the last round."
    assert in_one_breath in ends[-1].casefold() or f"the brim is {brim} centimetres." in ends[-1]


@pytest.mark.parametrize("number", [12, 14, 15])
def test_a_crown_ended_early_is_as_wide_as_it_was_measured(number: int) -> None:
    caller = measured("M", f"across {number}")
    asked = caller.hear("start the sides").say
    assert asked.startswith(f"The crown is {say_integer(number)} centimetres across")


def test_sides_are_as_deep_as_they_were_measured_when_the_brim_begins() -> None:
    caller = measured("S", "depth nineteen")
    said = caller.hear("start the brim").say
    assert "Now the brim, six rounds: the sides are nineteen centimetres deep." in said
