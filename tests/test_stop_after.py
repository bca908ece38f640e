"""A brim or sides that are to end after some rounds more: asked first, with their size."""

from __future__ import annotations

import pytest

from pattern.plan.next_round import rounds_of
from pattern.session import commands as c
from tests.wordings.places import said
from voice.caller.reply import Verdict

AFTER_ONE = (
    "one more round of this or two",
    "can we end it after this one",
    "let's stop after this round",
    "one more and then I'm done",
    "make this the last round",
    "after this one let's call it done",
)
AFTER_TWO = ("I'd say two more rounds and that's it", "two more and then I'll stop")
"""Common usage, no source."""


@pytest.mark.parametrize("place", ["S", "B"])
@pytest.mark.parametrize(
    ("words", "rounds"), [*((w, 1) for w in AFTER_ONE), *((w, 2) for w in AFTER_TWO)]
)
def test_it_is_asked_with_the_size_and_a_yes_leaves_so_many_rounds(
    place: str, words: str, rounds: int
) -> None:
    before, (asks, yes) = said(place, words, "yes")
    assert asks.verdict is Verdict.ASKED
    assert asks.state.piece == before.piece
    assert asks.say.startswith("One more round" if rounds == 1 else "Two more rounds")
    assert "centimetres" in asks.say
    piece = yes.state.piece
    part = yes.state.offered.part if yes.state.offered else 0
    assert rounds_of(piece, part, piece.finished) == rounds


@pytest.mark.parametrize("words", AFTER_ONE)
def test_a_crown_ends_by_its_width(words: str) -> None:
    before, (reply,) = said("R", words)
    assert reply.state.piece == before.piece
    assert not isinstance(reply.asks, c.Change)


def test_a_round_more_is_told_with_the_whole_brim() -> None:
    _, (reply,) = said("B", "can I add another round")
    assert reply.say == "One round more, and a brim of six point seven centimetres? Yes or no."
