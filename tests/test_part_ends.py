"""How much longer with the part in work, finishing it first, and that it sits well."""

from __future__ import annotations

from itertools import product

import pytest

from pattern.session import commands as c
from pattern.session.commands import Fit, Kind
from pattern.session.decisions import leaves_piece
from tests.wordings.places import said
from voice.words.free.part_ends import part_ends
from voice.words.free.sits_well import sits_well
from voice.words.free.spellings import said_plainly

ASKED = (
    "how much longer",
    "how long do I keep going",
    "how many more",
    "how much longer do I go on",
)
OF = ("with these", "with this", "with this bit", "like this", "with plain rounds")
PARTS = {"R": "crown", "M": "crown", "S": "sides", "B": "brim"}
WISHES = (
    "I'd like to finish {}",
    "let me finish {} first",
    "I want to finish {}",
    "can I finish {}",
)
WELL = ("nicely", "well", "perfectly", "very comfortably", "beautifully")
ON = ("", " on my head", " on her head", " now")


@pytest.mark.parametrize("place", PARTS)
@pytest.mark.parametrize(("asked", "of"), list(product(ASKED, OF)))
def test_rounds_of_this_part_are_told_and_no_clock(place: str, asked: str, of: str) -> None:
    before, (reply,) = said(place, f"{asked} {of}")
    assert reply.state == before
    assert f"of the {PARTS[place]}" in reply.say
    assert "minute" not in reply.say
    assert "pace" not in reply.say


@pytest.mark.parametrize(
    "words",
    ["how long will it take", "when will I be done", "how many minutes is that", "how many hours"],
)
def test_a_time_is_told_where_it_is_asked_for(words: str) -> None:
    _, (reply,) = said("S", words)
    assert reply.command == c.Ask(c.Asked.TIME_LEFT)
    assert "rounds left" in reply.say, "what is known is told, though the pace is not"


@pytest.mark.parametrize("place", PARTS)
@pytest.mark.parametrize("wish", WISHES)
def test_to_finish_the_part_in_work_is_to_stay_with_it(place: str, wish: str) -> None:
    """Nothing changes; what would end it sooner is said, where a part follows."""
    before, (reply,) = said(place, wish.format(f"the {PARTS[place]}"))
    assert reply.state == before
    assert f"of the {PARTS[place]}" in reply.say
    assert ("To go on sooner" in reply.say) is (place != "B")


@pytest.mark.parametrize("wish", WISHES)
def test_to_finish_a_part_to_come_asks_about_it(wish: str) -> None:
    before, (asks, yes) = said("R", wish.format("the sides"), "yes")
    assert "Start the sides all the same?" in asks.say
    assert asks.state.piece == before.piece
    assert yes.state.offered is not None
    assert yes.state.piece.stretches[yes.state.offered.part].called == "sides"
    before, (told,) = said("B", wish.format("the sides"))
    assert told.state == before


@pytest.mark.parametrize("place", ["R", "S", "B"])
@pytest.mark.parametrize("wish", WISHES)
def test_to_finish_the_round_is_to_hear_it(place: str, wish: str) -> None:
    before, (reply,) = said(place, wish.format("this round"))
    assert (reply.state, reply.command) == (before, c.Ask(c.Asked.AGAIN))


@pytest.mark.parametrize(("well", "on"), list(product(WELL, ON)))
@pytest.mark.parametrize("sits", ["sits", "is sitting", "fits", "feels"])
def test_what_sits_well_fits(sits: str, well: str, on: str) -> None:
    """At once where it was asked for; elsewhere it is asked about, or nothing is changed."""
    words = f"it {sits} {well}{on}"
    before, (reply,) = said("A", words)
    assert before.want is not None
    assert before.want.kind is Kind.AROUND
    assert reply.command == c.TriedOn(Fit.RIGHT)
    assert reply.state.taken is not None
    assert reply.state.taken.reading.fit is Fit.RIGHT
    before, (reply,) = said("R", words)
    assert reply.asks == c.TriedOn(Fit.RIGHT)
    before, (reply,) = said("B", words)
    assert reply.asks == c.TriedOn(Fit.FALLS)


@pytest.mark.parametrize(
    "words", ["snug, just right", "nice and snug", "a perfect fit", "snug but comfortable"]
)
def test_snug_and_right_is_right(words: str) -> None:
    _, (reply,) = said("A", words)
    assert reply.command == c.TriedOn(Fit.RIGHT)


@pytest.mark.parametrize(
    "words",
    [
        "it doesn't sit well",
        "will it fit her head nicely",
        "does it sit right",
        "finish the washing up first",
        "how much longer with the film",
        "when do I stop at the shop",
        "let me finish my tea first",
        "it fits badly",
    ],
)
def test_others_are_left_to_likeness(words: str) -> None:
    for place in ("R", "A", "S", "B"):
        state, (reply,) = said(place, words)
        assert part_ends(said_plainly(words), state) is None
        assert sits_well(said_plainly(words), state) is None
        assert reply.command is None or leaves_piece(reply.command)
