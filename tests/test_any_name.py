"""Yarns, hooks, stitches, shapes and heads by any name, in options and in the interview."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.catalogue import SHAPES
from pattern.shape.settings import Answered
from pattern.shape.shape_names import SHAPE_NAMES, shape_in
from pattern.trade.head_medians import Sex, hat_size_us, head_median_mm
from pattern.trade.hook_names import HOOK_MARKS, hook_letter
from pattern.trade.names import terms_of
from pattern.trade.stitches import STITCHES, Stitch, Terms
from tests.wordings.places import caller_at, said
from voice.cli import option_answers
from voice.cli.command_line import parser
from voice.hearing.evidence import Action
from voice.hearing.listening import Hearing
from voice.hearing.narrowing import groups_now
from voice.hearing.session_expectation import expectation_of, reader_in
from voice.speech.speaker import Renderer
from voice.words.spoken_numbers import say_fraction


def answered(place: str, *words: str) -> State:
    return said(place, *words)[1][-1].state


@pytest.mark.parametrize(
    ("words", "yarn"),
    # Source: Craft Yarn Council, Standard Yarn Weight System; ply: common practice, no source.
    [("worsted", 4), ("dk", 3), ("DK", 3), ("4 ply", 1), ("aran", 4), ("chunky", 5), ("5", 5)],
)
def test_a_yarn_by_name(words: str, yarn: int) -> None:
    args = parser().parse_args(["plan", "--yarn", words])
    assert c.Choose("yarn", yarn) in option_answers.answers(args)
    for wording in (words, f"it's {words}", f"I think it's {words} weight"):
        assert answered("I-yarn", wording).settings.yarn == yarn


@pytest.mark.parametrize(
    ("words", "hook_mm"),
    # Common practice, no source.
    [("H", 5.0), ("H-8", 5.0), ("US 8", 5.0), ("5mm", 5.0), ("G-6", 4.0), ("5.5", 5.5)],
)
def test_a_hook_by_what_is_marked_on_it(words: str, hook_mm: float) -> None:
    args = parser().parse_args(["plan", "--hook", words])
    (found,) = option_answers.answers(args)
    assert isinstance(found, c.Change)
    assert found.amount.value == hook_mm
    assert answered("I-hook", words).settings.hook_mm == hook_mm


HEARD: tuple[tuple[str, str, str, Answered], ...] = (
    *(("I-yarn", words, "yarn", yarn) for words, yarn in (("d k", 3), ("worsted", 4), ("sock", 1))),
    *(("I-yarn", words, "yarn", yarn) for words, yarn in (("four ply", 1), ("chunky", 5))),
    *(("I-hook", words, "hook_mm", mm) for words, mm in (("h eight", 5.0), ("size g six", 4.0))),
    *(("I-hook", words, "hook_mm", mm) for words, mm in (("a k ten and a half", 6.5),)),
    ("I-stitch", "h d c", "stitch", Stitch.HALF_DOUBLE),
    ("I-brim", "none", "brim_mm", 0.0),
)
"""Names of the trade in answers. Source: as above."""


@pytest.mark.parametrize("answer", HEARD)
def test_so_it_is_by_ear(
    hearing: Hearing, ours: Renderer, answer: tuple[str, str, str, Answered]
) -> None:
    """The real net, where the question stands."""
    place, words, key, value = answer
    caller = caller_at(place)
    now = caller.state
    found = hearing.decide(ours.render(words), expectation_of(now), groups_now(now), reader_in(now))
    assert found.action is Action.ACT
    assert found.command is not None
    assert getattr(caller.take(found.command).state.settings, key) == value


@pytest.mark.parametrize(("marks", "hook_mm"), sorted(HOOK_MARKS.items()))
def test_a_hook_by_its_letter_and_number(marks: tuple[str, str], hook_mm: float) -> None:
    assert answered("I-hook", "-".join(marks)).settings.hook_mm == hook_mm
    letter, number = marks
    assert hook_letter(hook_mm) == f"{letter.upper()}-{number}"


def test_a_head_that_is_measured_is_no_shape() -> None:
    """A bucket is what the head is like here, and no hat."""
    after = answered("I-head", "he's got a head like a bucket, sixty two").settings
    assert after.head_mm == pytest.approx(620.0)
    assert after.shape == said("I-head", "again")[0].settings.shape


@pytest.mark.parametrize("words", ["not treble", "not a double"])
def test_a_stitch_that_is_denied_is_not_taken(words: str) -> None:
    assert answered("I-stitch", words).settings == said("I-stitch", "again")[0].settings


@pytest.mark.parametrize("words", ["an H", "size H", "old UK six", "US eight", "it's an H hook"])
def test_so_it_is_in_a_short_answer(words: str) -> None:
    assert answered("I-hook", words).settings.hook_mm == 5.0


@pytest.mark.parametrize(("name", "shape"), sorted(SHAPE_NAMES.items()))
def test_a_shape_by_any_name(name: str, shape: str) -> None:
    assert shape in {each.name for each in SHAPES}
    args = parser().parse_args(["plan", "--shape", name])
    assert option_answers.answers(args) == [c.Choose("shape", shape)]
    assert shape_in(f"a {name} please") == shape
    assert answered("I-head", f"make it a {name}").settings.shape.name == shape


@pytest.mark.parametrize("option", ["--yarn foo", "--hook Z", "--shape nowhere"])
def test_no_name_is_told(option: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        parser().parse_args(["plan", *option.split()])
    assert "give " in capsys.readouterr().err


@pytest.mark.parametrize("terms", Terms)
def test_an_ambiguous_stitch_is_asked_about(terms: Terms) -> None:
    """Double crochet is one stitch in US, another in UK terms. Source: as STITCHES."""
    before, (asks, done) = said("I-terms", "double crochet", terms.value)
    assert asks.say == "Double crochet in US or UK terms?"
    assert asks.state == before
    meant = Stitch.DOUBLE if terms is Terms.US else Stitch.SINGLE
    assert (done.state.settings.terms, done.state.settings.stitch) == (terms, meant)


def test_anything_else_asks_for_the_terms_again() -> None:
    _, (asks, again, done) = said("I-terms", "dc crochet", "flibber wugs", "UK")
    assert again.say == asks.say
    assert done.state.settings.stitch is Stitch.SINGLE


def test_a_name_of_one_dialect_tells_which() -> None:
    settings = answered("I-terms", "half treble crochet").settings
    assert (settings.terms, settings.stitch) == (Terms.UK, Stitch.HALF_DOUBLE)
    assert terms_of("half treble") == {Terms.UK}
    both = {stitch.value for stitch in STITCHES} & {facts.uk_name for facts in STITCHES.values()}
    assert {name for name in both if len(terms_of(name)) == 2} == both == {"double", "treble"}


@pytest.mark.parametrize("eighths", range(52, 65))
def test_a_us_hat_size_is_a_head(eighths: int) -> None:
    """Inches around over pi. Source: as hat_size_us."""
    size = Fraction(eighths, 8)
    state = answered("I-head", f"US size {say_fraction(size)}")
    assert state.settings.head_mm is not None
    assert state.settings.head_mm == pytest.approx(25.4 * math.pi * float(size), abs=1)
    assert state.settings.head_mm is not None
    assert hat_size_us(state.settings.head_mm) == size


@pytest.mark.parametrize(
    ("words", "head_mm"),
    # Common practice, no source.
    [("small", 550), ("a medium", 570), ("size L", 590), ("extra large", 610)],
)
def test_a_size_by_its_letter(words: str, head_mm: float) -> None:
    assert answered("I-head", words).settings.head_mm == pytest.approx(head_mm)


def test_a_baby_without_an_age_is_asked_about() -> None:
    before, (asks, done) = said("I-head", "it's for a baby", "six")
    assert asks.say == "How old is the baby, in months?"
    assert asks.state == before
    both = sum(head_median_mm(0.5, sex) for sex in Sex) / 2
    assert done.state.settings.head_mm == pytest.approx(both)


def test_a_daughter_without_an_age_is_asked_about() -> None:
    _, (asks, done) = said("I-head", "for my daughter", "seven")
    assert asks.say == "How old is the child?"
    assert done.state.settings.head_mm == pytest.approx(head_median_mm(7, Sex.FEMALE))


def test_a_husband_is_a_man() -> None:
    state = answered("I-head", "my husband")
    assert state.settings.head_mm == pytest.approx(head_median_mm(30, Sex.MALE))


@pytest.mark.parametrize(("words", "head_mm"), [("sixty one", 610), ("large", 590)])
def test_a_big_head_is_asked_for_by_the_tape(words: str, head_mm: float) -> None:
    before, (asks, done) = said("I-head", "he has a big head", words)
    assert asks.say.startswith("Lay the tape around")
    assert asks.state == before
    assert done.state.settings.head_mm == pytest.approx(head_mm)


@pytest.mark.parametrize(
    "said",
    [
        "one fifty gram ball",
        "a ball weighs fifty grams",
        "just the one ball",
        "two balls",
        "a hundred metres to the ball",
        "half a ball of wool",
    ],
)
def test_a_ball_of_yarn_is_no_shape(said: str) -> None:
    assert shape_in(said) is None
    assert shape_in("i am making a ball") == "ball"
