"""Two things in one sentence are both done; common usage, no source."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pattern.journal.journal import Journal
from pattern.session import commands as c
from pattern.session.history import CODEC
from pattern.shape.fits import Fit
from tests.test_conversation import BreakingRoom, Call
from tests.wordings.places import caller_at
from voice.caller.caller import Caller
from voice.caller.keeping import Unkept
from voice.caller.spoken import Spoken
from voice.hearing.listening import Hearing
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer
from voice.words.free.amounts import amounts
from voice.words.free.two_things import two_things
from voice.words.spoken_numbers import say_integer

DONE = ("next", "done", "that's done", "I'm done with this round", "finished")
TELLS = ("it's {} across", "I have {} stitches", "count {}", "{} around")
JOINS = (", and ", " and ", ", ", "; ", ". ")
AFTER = 6


def at_round() -> Caller:
    """A caller of a hat whose crown is in work."""
    caller = Caller(Unkept("hat"))
    caller.open()
    for words in ("fifty six centimetres", "four", "five", "begin", *["next"] * AFTER):
        caller.hear(words)
    return caller


@given(
    st.sampled_from(DONE),
    st.sampled_from(JOINS),
    st.sampled_from(TELLS),
    st.integers(8, 60),
)
def test_a_round_is_done_before_what_is_told_with_it(
    done: str, join: str, tells: str, number: int
) -> None:
    """It comes to the same as both said one after the other, questions answered with yes."""
    said = tells.format(say_integer(number))
    together, apart = at_round(), at_round()
    for caller, lines in ((together, [f"{done}{join}{said}"]), (apart, [done, said])):
        for line in lines:
            while caller.hear(line).asks is not None:
                line = "yes"  # noqa: PLW2901 - the answer to what it asks
    assert together.state == apart.state
    assert together.state.piece.finished > AFTER


@given(st.integers(1, 9), st.integers(1, 9))
def test_two_sizes_are_changed_one_after_the_other(wider: int, deeper: int) -> None:
    caller = at_round()
    before = caller.state.settings
    inches = f"make it {say_integer(wider)} millimetres wider and {say_integer(deeper)} deeper"
    text = inches.replace(" deeper", " millimetres deeper")
    assert caller.hear(text).asks == c.Adjust("brim_mm", amounts(text)[0])
    reply = caller.hear("yes")
    while reply.asks is not None:
        reply = caller.hear("yes")
    now = caller.state.settings
    assert now.brim == pytest.approx(before.brim + wider)
    assert now.depth == pytest.approx(before.depth + deeper)


@pytest.mark.parametrize(
    ("text", "fit"),
    [
        ("it fits nicely but it's a bit short", Fit.SHORT),
        ("it fits well but it's too deep", Fit.BELOW),
    ],
)
def test_what_comes_after_a_but_counts(text: str, fit: Fit) -> None:
    found = two_things(text, caller_at("S").state)
    assert [one.command for one in found] == [c.TriedOn(fit, None)]


@given(st.integers(1, 9), st.integers(1, 99))
def test_no_amount_is_cut_in_two(hundreds: int, rest: int) -> None:
    number = 100 * hundreds + rest
    assume(number % 100)
    assert two_things(f"I have {say_integer(number)} stitches", at_round().state) == ()


@pytest.mark.parametrize("text", ["yes and no", "done and dusted", "it is nice and flat"])
def test_what_is_one_thing_stays_one(text: str) -> None:
    assert len(two_things(text, at_round().state)) < 2


def test_both_are_heard_and_the_second_is_asked_about(
    hearing: Hearing, ours: Renderer, tmp_path: Path
) -> None:
    """A real call: the round is done, and how it lies is asked about and taken."""
    with Journal.open(tmp_path, "x", CODEC) as journal:
        caller = Caller(journal)
        caller.open()
        for words in ("fifty six centimetres", "four", "five", "begin", *["next"] * AFTER):
            caller.hear(words)
        call = Call(caller, hearing, ours, BreakingRoom())
        with Renderer(Delivery(rate_wpm=150)) as maker:
            for words in ("that round is finished and it lies flat", "yes"):
                call.silent()
                call.wait(1.0)
                call.room.speak(maker.render(words))
                call.wait(8.0)
        assert caller.state.piece.finished == AFTER + 1
        assert call.watch.spoken[-2] == "It lies flat? Yes or no."
        assert call.watch.spoken[-1].startswith("Flat, good.")


def test_a_caller_takes_what_was_heard_as_what_was_typed() -> None:
    typed, heard = at_round(), at_round()
    text = "that round is done and it's eleven across"
    first = two_things(text, heard.state, aloud=True)[0]
    assert first.command == c.Next()
    reply = Spoken(heard).take(c.Next(), text, freely=True)
    assert isinstance(reply.asks, c.Measured)
    typed.hear("next")
    assert heard.state == typed.state
