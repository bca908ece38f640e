"""Whether it is big enough: yes or what is missing first, then how big it is and should be."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.plan.piece import depth_at
from pattern.session import commands as c
from pattern.session.state import State
from tests.hats import begun, until
from tests.wordings.places import said
from voice.sentences import big_enough
from voice.words.free.amounts import amounts
from voice.words.free.spellings import said_plainly

DEEP = ("is it deep enough yet", "so, are the sides long enough", "has it got enough depth")
WIDE = (
    "is it wide enough",
    "is this big enough now",
    "hmm, is it broad enough yet",
)
FAR = (
    "am I there yet",
    "have I done enough rounds",
    "is that enough rounds",
    "are we there yet",
)
"""Common usage, no source."""


@pytest.mark.parametrize("place", ["R", "M", "A", "S", "B", "F"])
@pytest.mark.parametrize("words", [*DEEP, *WIDE, *FAR])
def test_it_is_answered_yes_or_not_yet_with_a_number_in_the_first_words(
    place: str, words: str
) -> None:
    before, (reply,) = said(place, words)
    if reply.command == c.Ask(c.Asked.ROUNDS):
        pytest.fail("rounds answer no yes-or-no question")
    assert reply.state == before
    assert re.match(r"(?:Yes: |Not yet: about )", reply.say)
    assert amounts(said_plainly(" ".join(reply.say.split()[:9])))
    assert "is wanted" in reply.say
    assert reply.say.count(".") <= 2


@pytest.mark.parametrize(
    ("words", "asked"),
    [
        *((words, c.Asked.DEEP_ENOUGH) for words in DEEP),
        *((words, c.Asked.WIDE_ENOUGH) for words in WIDE),
        *((words, c.Asked.PART_ENOUGH) for words in FAR),
        ("do I need any more rounds", c.Asked.PART_ROUNDS),
        ("does it need to be deeper", c.Asked.PART_ROUNDS),
    ],
)
def test_each_asks_for_its_own_size(words: str, asked: c.Asked) -> None:
    assert said("S", words)[1][0].command == c.Ask(asked)


ROUNDED_MM = 2.5
"""Half of the half centimetre to which "about" is rounded."""


@given(st.integers(2, 40))
def test_what_is_missing_and_what_there_is_come_to_what_is_wanted(rounds: int) -> None:
    """As they are said, within the half centimetre to which "about" is rounded."""
    state: State = until(
        lambda now: now.piece.finished == rounds or now.offered is None, begun(unit="centimeter")
    )
    if state.offered is None or state.piece.brim_rounds:
        return
    told = [amount.value for amount in amounts(said_plainly(big_enough.deep(state)))]
    assert state.piece.stretches[1].end_depth_mm is not None
    wanted_mm = state.piece.stretches[1].end_depth_mm
    lacks_mm = wanted_mm - state.piece.gauge.height_mm / 2 - depth_at(state.piece, rounds).mean
    if abs(lacks_mm) < ROUNDED_MM:
        return  # as they are said, it may be either
    enough = lacks_mm <= 0
    assert big_enough.deep(state).startswith("Yes") is enough or len(told) == 2
    if len(told) == 3:
        missing, now, wanted = told
        assert missing + now == pytest.approx(wanted, abs=0.3)


def test_a_measure_just_taken_is_the_one_that_is_told() -> None:
    _, (_, reply) = said("M", "across fourteen point two", "is it wide enough")
    assert "It is fourteen point two centimetres across" in reply.say
