"""Families of plain wordings, each at the place where makers say them. Common usage, no source."""

from __future__ import annotations

import pytest

from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.trade.head_medians import Sex
from pattern.trade.lengths import Amount, Unit
from pattern.trade.techniques import Technique
from tests.wordings.places import others, said
from voice.caller.reply import Verdict
from voice.words.free.amounts import amounts
from voice.words.free.so_far import so_far

ANSWERED = [
    ("I-head", 'the tape says 22"', c.Answer(Amount(22.0, 1.0, Unit.INCH))),
    ("I-head", "he's just over a year old", c.HeadOf(1.0, Sex.MALE)),
    ("I-head", "what do you mean, around or across", c.Explain(Technique.HEAD)),
    ("I-head", "I don't know how big she is", c.Ask(c.Asked.HEADS)),
    ("I-yarn", "no idea, it's thickish", c.Explain(Technique.YARN_CLASS)),
    ("I-brim", "seven, to keep the sun off", c.Answer(Amount(7.0))),
    ("I-brim", "I'd rather not have one at all", c.Choose("brim_mm", 0)),
    ("I-brim", "none, just like a beanie", c.Choose("brim_mm", 0)),
    ("I-stitch", "H D C", c.Choose("stitch", "half double")),
    ("R", "finished, what's after", c.Next()),
    ("R", "are you still there", c.Ask(c.Asked.AGAIN)),
    ("R", "my yarn's split and come apart", c.Explain(Technique.JOIN_BALL)),
    ("R", "this hook is killing my thumb", c.Ask(c.Asked.PAIN)),
    ("M", "where do I put the tape", c.Explain(Technique.ACROSS)),
    ("A", "where does the tape go now", c.Explain(Technique.AROUND)),
    ("M", "from one side to the other, right", c.Explain(Technique.ACROSS)),
    ("M", "I'd have to find my tape first, can I carry on", c.Skip()),
    ("S", "round done, same again I suppose", c.Next()),
    ("S", "how many rows before the brim", c.Ask(c.Asked.PART_ROUNDS)),
    ("R", "how many rounds before the brim", c.Ask(c.Asked.ROUNDS)),
    ("B", "how wide is my brim right now", c.Ask(c.Asked.SIZE_NOW)),
    ("F", "can I wash this", c.Ask(c.Asked.WASHING)),
    ("F", "will it survive a hot wash", c.Ask(c.Asked.WASHING)),
    ("F", "do I need to block it", c.Ask(c.Asked.WASHING)),
    ("P", "are you still there", c.Ask(c.Asked.AGAIN)),
    ("P", "can you hear me", c.Ask(c.Asked.AGAIN)),
    ("R", "is it about the right size so far", c.Ask(c.Asked.WIDE_ENOUGH)),
]
ASKED = [
    ("R", "I'm missing a stitch, there's only forty-seven", c.Counted(47)),
    ("R", "okay, I counted forty seven, there's one missing", c.Counted(47)),
    ("R", "I'm not finished, I have thirty in this round so far", c.CountedIn(30)),
    ("R", "thirty in, still going", c.CountedIn(30)),
    ("R", "up to now I've done thirty in here", c.CountedIn(30)),
    ("R", "had to unravel that whole round", c.RippedBack(1)),
    ("R", "it's ten plain ones in between two increases", c.LostAt(10, between=True)),
    ("S", "add another centimetre to the depth", c.Adjust("depth_mm", Amount(1.0, 0.5, Unit.CM))),
    ("B", "stop the brim here", c.FinishNow()),
]


@pytest.mark.parametrize(("place", "words", "command"), ANSWERED)
def test_answered_at_once(place: str, words: str, command: c.Command) -> None:
    assert said(place, words)[1][0].command == command


@pytest.mark.parametrize(("place", "words", "command"), ASKED)
def test_done_or_asked_first(place: str, words: str, command: c.Command) -> None:
    before, (reply,) = said(place, words)
    assert command in {reply.command, reply.asks}
    assert reply.verdict is not Verdict.ASKED or reply.state.piece == before.piece


@pytest.mark.parametrize(
    "words", ["no, it's forty", "no sorry, I said forty", "nope, make it forty"]
)
def test_a_no_may_tell_the_right_number_in_a_sentence(words: str) -> None:
    before, (reply,) = said("Q", words)
    assert before.doubt is not None
    assert reply.command == c.No(Amount(40.0))


def test_wide_is_told_of_a_brim_in_work() -> None:
    _, (reply,) = said("B", "two and a half wide")
    assert reply.command == c.Measured(Amount(2.5, 0.5), Kind.BRIM)


@pytest.mark.parametrize(
    ("words", "value", "unit"),
    [
        ("a couple of inches", 2.0, Unit.INCH),
        ("four and a bit inches", 4.0, Unit.INCH),
        ("ten in across", 10.0, Unit.INCH),
        ("22 in", 22.0, Unit.INCH),
        ("four in march", 4.0, None),
        ("thirty in this round", 30.0, None),
    ],
)
def test_amounts_as_they_are_said(words: str, value: float, unit: Unit | None) -> None:
    (found,) = amounts(words)
    assert (found.value, found.unit) == (value, unit)


def test_nobody_else_tells_a_count_so_far() -> None:
    before, _ = said("R", "again")
    assert sum(so_far(words, before) is not None for words in others()) <= len(others()) / 50
