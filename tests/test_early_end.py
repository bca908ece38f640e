"""The next part begun early: the question says first how big this one is, and should be."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.plan.early_end import end_now
from pattern.plan.next_round import next_part
from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.rounds import Stage
from tests.hats import at, begun, said, until
from tests.wordings.places import caller_at
from tests.wordings.places import said as told
from voice.sentences import early_end

BRIM = ("start the brim", "let us start the brim", "I'd like to begin the brim now", "brim now")
SHAPES = ("brimmed hat", "bucket hat", "beret", "close cap", "bowl")


def lacks_much(state: State) -> bool:
    part = next_part(state.piece) or 0
    return end_now(state.piece, part, state.piece.stitches).much_off


@given(st.sampled_from(SHAPES), st.integers(1, 40))
def test_a_part_that_ends_much_too_early_is_asked_about_and_no_other(
    shape: str, after: int
) -> None:
    """Of any part of any shape, at any round; one that is done by itself is never asked about."""
    state = until(
        lambda now: now.piece.finished == after or now.offered is None,
        begun(shape=shape, head_mm=420.0 if shape != "bowl" else None, brim_mm=None),
    )
    if state.offered is None:
        return
    part = next_part(state.piece) or 0
    if part + 1 >= len(state.piece.stretches) or not state.piece.rounds_in(part):
        return
    now = said(state, c.StartNext())
    assert (now.doubt is not None) is lacks_much(state)
    assert now.doubt is not None or now.offered is not None
    begun_next = said(now, c.Yes()) if now.doubt is not None else now
    assert begun_next.offered is None or begun_next.offered.part > part


@pytest.mark.parametrize("place", ["A", "S"])
@pytest.mark.parametrize("words", BRIM)
def test_a_brim_begun_on_short_sides_is_asked_about_with_their_depth(
    place: str, words: str
) -> None:
    """However it is wished: the number in the first words, and one question alone."""
    before, (asks, no) = told(place, words, "no")
    assert early_end.size(before).casefold() in asks.say.casefold()
    assert asks.say.startswith("The sides are about")
    assert asks.say.count("?") == 1
    assert no.state.piece == before.piece
    yes = told(place, words, "yes")[1][-1].state
    assert yes.stage is Stage.BRIM or (yes.offered and yes.offered.stage is Stage.BRIM)


@pytest.mark.parametrize("words", BRIM)
def test_a_brim_wished_in_the_crown_asks_about_the_sides(words: str) -> None:
    _, (asks, yes) = told("R", words, "yes")
    assert asks.say.startswith("The crown is about")
    assert "Start the sides all the same?" in asks.say
    assert yes.state.offered is not None
    assert yes.state.offered.stage is Stage.SIDES


def test_sides_that_are_deep_enough_are_not_asked_about() -> None:
    caller = caller_at("S")
    for _ in range(40):
        if not lacks_much(caller.state):
            break
        caller.hear("next")
    assert caller.state.stage is Stage.SIDES
    reply = caller.hear("start the brim")
    assert "Now the brim" in reply.say
    assert caller.state.doubt is None


def test_sides_that_lack_a_round_or_two_are_told_of_where_it_is_asked_first() -> None:
    """Free words are asked about anyway: then what is lacking is said in the same question."""
    caller = caller_at("S")
    while lacks_much(caller.state):
        caller.hear("next")
    reply = caller.hear("let's do the brim now")
    assert reply.say.startswith(early_end.size(caller.state).capitalize())
    assert reply.asks == c.StartBrim()


def test_no_part_is_said_to_lack_what_is_past_its_end() -> None:
    """A crown that is wider than planned lacks nothing."""
    state = until(lambda now: lacks_much(now) is False, at(Stage.CROWN, begun(head_mm=420.0)))
    assert said(state, c.StartSides()).doubt is None
    wide = said(state, c.Counted(round(state.piece.stitches * 1.1)))
    assert said(wide, c.StartSides()).stage is Stage.SIDES


def test_one_question_before_the_hat_ends_early() -> None:
    """What the session asks itself is not asked twice."""
    _, (asks, yes) = told("S", "I want to finish the hat here", "yes")
    assert "still planned" in asks.say
    assert yes.state.stage is Stage.FINISHING
