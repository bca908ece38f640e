"""Where a part ends the reply is one breath: three sentences at the most, the rest for more."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from pattern.session import commands as c
from pattern.session.state import State
from pattern.trade.lengths import Amount, Unit
from tests.properties import together
from voice.caller.caller import Caller
from voice.caller.keeping import Unkept
from voice.words.free.amounts import amounts
from voice.words.free.spellings import said_plainly

SHAPES = ("brimmed hat", "close cap", "bucket hat", "beret", "bowl", "mat", "ball")
LEVELS = ("full", "brief")
MOST_SENTENCES, MOST_WORDS = 3, 45
"""Our choice: as much as was asked for by who listened."""


def ends(shape: str, level: str) -> Iterator[tuple[State, str, Caller]]:
    """The state before, the reply to the last round of each part, and the caller after it."""
    caller = Caller(Unkept("piece"))
    size = c.HeadOf() if shape not in SHAPES[4:] else c.Change("across_mm", Amount(14.0))
    caller.open([c.Choose("unit", Unit.CM.value), c.Choose("shape", shape), size])
    for words in ("begin", level):
        caller.hear(words)
    while caller.state.offered is not None:
        before = caller.state
        said = caller.hear("yes" if before.doubt else "next").say
        after = caller.state.offered
        assert before.offered is not None
        if after is None or after.part != before.offered.part:
            yield before, said, caller


def sentences(said: str) -> list[str]:
    return re.split(r"(?<=[.?]) ", said)


@pytest.mark.parametrize(("shape", "level"), together(SHAPES, LEVELS))
def test_the_end_of_a_part_is_told_in_three_sentences(shape: str, level: str) -> None:
    told = list(ends(shape, level))
    assert told
    for _, said, _ in told:
        assert len(sentences(said)) <= MOST_SENTENCES, said
        assert len(said.split()) <= MOST_WORDS, said


@pytest.mark.parametrize("shape", ["brimmed hat", "bucket hat", "beret", "bowl"])
def test_what_begins_is_told_first_with_its_number_and_the_rest_when_it_is_asked(
    shape: str,
) -> None:
    for before, said, caller in ends(shape, "full"):
        if caller.state.offered is None:
            continue
        assert before.offered is not None
        begins = caller.state.piece.stretches[caller.state.offered.part].called
        first = sentences(said)[0]
        assert first.startswith(f"Now the {begins}, ")
        assert amounts(said_plainly(first.partition(":")[0]))
        more = caller.hear("tell me more").say
        assert more != "That is all. Say again to hear what is due."
        assert begins in more


def test_few_words_leave_the_part_that_begins_for_more() -> None:
    for _, said, caller in ends("brimmed hat", "brief"):
        if caller.state.offered is not None:
            assert "Now the" not in said
            assert caller.hear("tell me more").say.startswith("Now the")


def test_one_more_round_of_brim_is_offered_and_its_width_told_when_it_is_asked() -> None:
    *_, (_, said, caller) = ends("brimmed hat", "full")
    assert said.startswith("That was the last round: the brim is about")
    assert said.endswith("Say next to finish, or one more round.")
    assert "One more round would make the brim" in caller.hear("tell me more").say


def test_a_reading_that_ends_a_part_is_read_back_in_the_same_breath() -> None:
    caller = Caller(Unkept("piece"))
    caller.open([c.Choose("unit", Unit.CM.value), c.HeadOf()])
    caller.hear("begin")
    while caller.state.piece.finished < 24:
        caller.hear("yes" if caller.state.doubt else "next")
    said = caller.hear("depth nineteen point seven").say
    assert said.startswith("Nineteen point seven deep: now the brim, seven rounds. Round")
    assert len(sentences(said)) <= MOST_SENTENCES
