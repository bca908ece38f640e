"""Plain words at the finishing, and of some things makers say at the work."""

from __future__ import annotations

import pytest

from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.session.state import FINISHING_STEPS
from pattern.trade.techniques import Technique
from tests.wordings.places import said
from voice.words.spoken_numbers import say_integer

DONE = {
    "end": ("it's all slip stitched", "I've slip stitched it"),
    "fasten": ("it's cut", "I've fastened off", "that's the yarn cut", "I cut the yarn"),
    "weave": (
        "that's the ends woven in",
        "I've woven in the ends",
        "the ends are all sewn in",
        "all sewn in",
    ),
    "shape": ("it's washed", "it is dry now", "it's pinned out"),
}
PLACES = ("I-head", "I-begin", "R", "M", "Q", "S", "F")
TOLD = [(step, words) for step, each in DONE.items() for words in each]


@pytest.mark.parametrize(("step", "words"), TOLD)
def test_a_step_is_done_by_its_own_words_and_asked_about_by_others(step: str, words: str) -> None:
    for number, called in enumerate(FINISHING_STEPS):
        before, replies = said("F", *["next"] * number, words)
        assert before.step == 0
        reply = replies[-1]
        if called == step:
            assert reply.state.step == number + 1
        else:
            assert (reply.state.step, reply.asks) == (number, c.Next())


@pytest.mark.parametrize(
    ("place", "words", "command"),
    [
        ("F", "do I cut it now", c.Ask(c.Asked.AGAIN)),
        ("F", "how long a tail do I leave", c.Ask(c.Asked.FINISHING)),
        ("R", "hang on, did you say two in the next", c.Ask(c.Asked.AGAIN)),
        ("R", "how much bigger does it need to get", c.Ask(c.Asked.SIZE_NOW)),
        ("B", "how much of the brim is there still to do", c.Ask(c.Asked.PART_ROUNDS)),
        ("S", "how deep is it supposed to get", c.Ask(c.Asked.DEEP_ENOUGH)),
        ("R", "how deep should it be", c.Explain(Technique.DEPTH)),
        *((place, "hang on, what did you ask me", c.Ask(c.Asked.AGAIN)) for place in PLACES),
        ("I-begin", "that all sounds lovely, off we go", c.Begin()),
    ],
)
def test_what_only_asks_or_goes_on_is_done(place: str, words: str, command: c.Command) -> None:
    assert said(place, words)[1][-1].command == command


@pytest.mark.parametrize(
    ("place", "words", "command"),
    [
        ("R", "I've only got forty seven on there", c.Counted(47)),
        ("M", "my tape's gone missing", c.TapeThere(there=False)),
        ("M", "I can't find the tape", c.TapeThere(there=False)),
        ("F", "can I make another one in a smaller size", c.Another()),
    ],
)
def test_what_changes_something_is_asked_about(place: str, words: str, command: c.Command) -> None:
    before, (reply,) = said(place, words)
    assert (reply.asks, reply.state) == (command, before)


def test_a_tape_that_is_lost_is_not_asked_for_again() -> None:
    _, replies = said("M", "I've lost my tape", "yes")
    want = replies[-1].state.want
    assert want is None or want.kind is not Kind.ACROSS


@pytest.mark.parametrize("mark", ["H", "G", "J"])
def test_a_hook_is_told_by_what_is_marked_on_it(mark: str) -> None:
    after = said("I-hook", f"I've got the one marked {mark}")[1][-1].state
    assert "hook_mm" in after.answered
    named = said("I-hook", f"size {mark}")[1][-1].state
    assert after.settings == named.settings


def test_at_the_end_the_rounds_are_counted() -> None:
    before, (reply,) = said("F", "how many rounds was it")
    count = say_integer(before.piece.finished).capitalize()
    assert reply.say == f"{count} rounds in all; none is left."


def test_a_question_in_doubt_is_said_again_once() -> None:
    again, what = (said("Q", words)[1][0].say for words in ("again", "what did you ask me"))
    assert what == again
