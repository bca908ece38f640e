"""The end of the rounds, by ear: the question of the fit first, then one step of the finishing."""

from __future__ import annotations

import pytest

from pattern.session import commands as c
from pattern.session.state import FINISHING_STEPS
from pattern.shape.rounds import Stage
from tests.properties import together
from voice.caller.caller import Caller
from voice.caller.keeping import Unkept
from voice.sentences import finishing
from voice.sentences.pages import EAR_WORDS

SHAPES = ("brimmed hat", "close cap", "bucket hat", "beret", "bowl", "mat", "ball")
MEANS = ("i have no tape", "i can try it on", "i can't try it on")
ASIDES = (
    "how big should it be",
    "speak slower",
    "how much yarn do i need",
    "again",
    "tell me more",
)


def ended(shape: str, means: str) -> tuple[Caller, str]:
    """A caller after its last round, and the words that were said then."""
    caller = Caller(Unkept("piece"))
    caller.open()
    for words in ("centimetres", f"a {shape}", "begin", means):
        said = caller.hear(words).say
    for _ in range(200):
        if caller.state.stage is Stage.FINISHING:
            return caller, said
        said = caller.hear("yes" if caller.state.doubt else "next").say
    raise AssertionError("it never ends")


@pytest.mark.parametrize(("shape", "means"), together(SHAPES, MEANS))
def test_no_breath_holds_a_question_and_a_step(shape: str, means: str) -> None:
    """And every step is told once, in its order, to who says nothing but next."""
    caller, said = ended(shape, means)
    told = [said]
    while caller.state.stage is Stage.FINISHING:
        told.append(caller.hear("next").say)
    steps = []
    for words in told:
        assert len(words.split()) <= EAR_WORDS + 10, words
        assert not ("?" in words and "when that is done" in words), words
        steps.append(words.endswith("when that is done."))
    assert sum(steps) == len(FINISHING_STEPS) - 1
    assert steps == [*sorted(steps[:-2]), False, False]


@pytest.mark.parametrize("aside", ASIDES)
def test_the_first_step_is_told_whatever_is_asked_before_it(aside: str) -> None:
    caller, said = ended("brimmed hat", "i can't try it on")
    first = finishing.step(caller.state)
    assert said.endswith("Say next to finish, or one more round.")
    told = caller.hear(aside).say
    if not told.endswith(first):
        assert caller.preview(c.Next()) == first
        told = caller.hear("next").say
    assert told == first
    assert caller.state.step == 0
    assert caller.hear("next").state.step == 1


def test_one_more_round_is_worked_before_the_first_step() -> None:
    caller, _ = ended("brimmed hat", "i can't try it on")
    rounds = caller.state.piece.brim_rounds
    caller.hear("one more round")
    assert caller.state.stage is Stage.BRIM
    said = caller.hear("next").say
    assert caller.state.piece.brim_rounds == rounds + 1
    assert said.endswith("Say next to finish, or one more round.")


def test_the_fit_is_answered_before_the_first_step() -> None:
    caller, said = ended("brimmed hat", "i have no tape")
    assert said.endswith("Or say next, or one more round.")
    said = caller.hear("the brim falls well").say
    assert said.endswith(finishing.step(caller.state))
    assert caller.state.step == 0


def test_with_few_words_the_first_step_waits_too() -> None:
    caller = Caller(Unkept("piece"))
    caller.open()
    for words in ("centimetres", "a brimmed hat", "begin", "i can't try it on", "brief"):
        caller.hear(words)
    said = ""
    while caller.state.stage is not Stage.FINISHING:
        said = caller.hear("yes" if caller.state.doubt else "next").say
    assert said.endswith("Say next to finish, or one more round.")
    assert caller.hear("next").say == finishing.step(caller.state)
