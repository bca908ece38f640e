"""Readings by touch in any words: the amount is read first, and read back before it counts."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.session.commands import Fit, Kind, OwnUnit
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from pattern.trade.own_units import LIMITS_MM, OwnWidths
from tests.golden.reading import caller_in
from tests.hats import begun
from tests.test_touch import on_sides
from tests.wordings.places import others
from voice.sentences.asked_first import question
from voice.words.free.by_touch import by_touch, reading
from voice.words.free.hand_widths import one_amount
from voice.words.free.spellings import said_plainly
from voice.words.spoken_numbers import say_integer

SIDES = on_sides()
UNITS = st.sampled_from(OwnUnit)


def _said(count: int, halves: bool, unit: OwnUnit) -> tuple[str, float]:
    """A number of widths in words, and as a number."""
    if count == 0:
        return f"half a {unit.value}", 0.5
    number = "a" if count == 1 else say_integer(count)
    half = " and a half" if halves else ""
    if count == 1:
        return f"a {unit.value}{half}", 1.0 + halves / 2
    return f"{number}{half} {unit.value}s", count + halves / 2


AMOUNTS = st.builds(_said, st.integers(0, 12), st.just(False), UNITS) | st.builds(
    _said, st.integers(1, 12), st.booleans(), UNITS
)
TOO_LONG = (
    "the string is {} too long",
    "my string goes round with {} to spare",
    "the string laps over by {}",
    "there's {} of string left over",
    "the ends overlap by {}",
    "the edge stops {} short of the knot",
    "{} too long, the string",
)
TOO_SHORT = (
    "my string's {} too short",
    "the string lacks {}",
    "there's a gap of {} between the ends",
    "the string doesn't meet by {}",
    "it goes {} past the knot",
    "the string comes {} short of the knot",
)


@given(AMOUNTS, st.sampled_from(TOO_LONG + TOO_SHORT))
def test_a_string_in_any_words(told: tuple[str, float], frame: str) -> None:
    words, value = told
    found = reading(said_plainly(frame.format(words)), SIDES)
    assert isinstance(found, c.StringOff)
    assert found.amount.value == value
    assert found.too_long is (frame in TOO_LONG)
    assert found.unit is not None
    assert found.unit.value in words


@given(AMOUNTS)
def test_an_amount_is_masked_and_read(told: tuple[str, float]) -> None:
    words, value = told
    found = one_amount(f"it is about {words} deep")
    assert found.amount is not None
    assert (found.words, found.amount.value) == ("it is about own deep", value)
    assert found.amount.step <= 1


@pytest.mark.parametrize(
    ("knot", "times"),
    [("knot", 1.0), ("half knot", 2.0), ("middle knot", 2.0), ("quarter knot", 4)],
)
def test_an_edge_that_is_folded_lacks_as_much_in_each_fold(knot: str, times: float) -> None:
    found = reading(f"it ends a finger short of the {knot}", SIDES)
    assert found == c.StringOff(Amount(times, times), too_long=True, unit=OwnUnit.FINGER)


@pytest.mark.parametrize(
    ("words", "command"),
    [
        ("it's three fingers deep", c.ByHand(Kind.DEPTH, Amount(3.0))),
        ("the brim is three fingers wide", c.ByHand(Kind.BRIM, Amount(3.0))),
        ("the crown's nine fingers across", c.ByHand(Kind.ACROSS, Amount(9.0))),
        ("it wants two fingers more", c.ByHand(Kind.EDGE, Amount(2.0), fit=Fit.SHORT_BY)),
        ("it's half a finger too tight", c.ByHand(Kind.FIT, Amount(0.5, 0.5), fit=Fit.TIGHT_BY)),
        ("i can get two fingers under the edge", c.TriedOn(Fit.FINGERS, Amount(2.0))),
        ("my thumb's 22 mm across", c.OwnWidth(OwnUnit.THUMB, Amount(22.0, 1.0, Unit.MM))),
        ("the string just meets", c.StringOff(Amount(0.0), True, OwnUnit.FINGER)),
    ],
)
def test_lengths_and_fits_in_any_words(words: str, command: c.Command) -> None:
    found = by_touch(said_plainly(words), SIDES)
    assert found is not None
    assert found.command == command


@pytest.mark.parametrize(
    "words",
    [
        "how many fingers deep should it be",
        "is the string a finger too long",
        "the string does not meet",
        "she has ten fingers",
        "two fingers of gin for her",
        "he cut his finger",
        "i lost the string",
    ],
)
def test_what_only_asks_or_talks_is_no_reading(words: str) -> None:
    assert by_touch(said_plainly(words), SIDES) is None


def test_talk_to_others_is_no_reading() -> None:
    assert [one for one in others() if by_touch(said_plainly(one), SIDES)] == []


def test_what_changes_nothing_here_is_not_asked_about() -> None:
    found = by_touch("it is five fingers across", SIDES)
    refused = by_touch("the string is a finger too long", begun(shape="mat", across_mm=100.0))
    assert found is not None
    assert refused is not None
    assert not refused.asks


@given(st.sampled_from(OwnUnit))
def test_usual_widths_are_possible_ones(unit: OwnUnit) -> None:
    least, most = LIMITS_MM[unit]
    assert least < OwnWidths().of(unit) < most
    assert OwnWidths().told(unit, least).of(unit) == least


def test_the_question_says_what_it_means_for_the_edge() -> None:
    asked = question(c.StringOff(Amount(2.0), True, OwnUnit.FINGER), SIDES)
    assert asked.startswith("The string is two fingers too long: the edge is smaller than the head")


LINES = ("head forty two centimetres", "super bulky", "fifteen", "a grown head", "begin")


def test_a_small_hat_with_a_string_in_own_words(tmp_path: Path) -> None:
    """Typed lines in process; a yes takes the reading, and the rounds go on from it."""
    with caller_in(tmp_path) as caller:
        caller.open()
        for line in LINES:
            caller.hear(line)
        taken = False
        for _ in range(60):
            state: State = caller.state
            if state.stage is Stage.DONE:
                break
            if state.piece.side_rounds == 2 and not taken:
                asked = caller.hear("my string goes round with a thumb to spare")
                assert asked.state == state
                assert asked.say.startswith("The string is one thumb too long")
                caller.hear("yes")
                if caller.state.doubt:
                    caller.hear("yes")
                assert caller.state.taken is not None
                one = caller.state.taken.reading
                assert one.kind is Kind.AROUND
                assert one.value_mm == pytest.approx(state.settings.head - 22, abs=1)
                taken = True
                continue
            caller.hear("skip" if state.doubt or state.want else "next")
        assert taken
        assert caller.state.stage is Stage.DONE
