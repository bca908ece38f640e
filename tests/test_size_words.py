"""Sizes and answers in words: "a wide brim", yarn and head before they are asked for."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.catalogue import SHAPES, Shape
from pattern.shape.interview import QUESTIONS
from pattern.shape.limits import LIMITS
from pattern.shape.settings import Settings
from pattern.shape.usual import size_mm
from pattern.trade.head_medians import Sex, head_median_mm
from pattern.trade.lengths import Unit
from tests.hats import begun, exactly, until
from tests.hats import said as done
from tests.wordings.places import said
from voice.caller.understanding import understood
from voice.sentences import size_now
from voice.words.free.amounts import amounts
from voice.words.free.size_words import size_in
from voice.words.free.spellings import said_plainly

WORDS = {
    "brim_mm": ("narrow", "wide", "floppy"),
    "depth_mm": ("shallow", "deep"),
    "height_mm": ("shallow", "deep"),
    "ease_mm": ("snug", "loose"),
}


@given(
    st.sampled_from(SHAPES),
    st.sampled_from(sorted(WORDS)),
    st.floats(LIMITS["head_mm"].least, LIMITS["head_mm"].most),
    st.sampled_from(list(Unit)[:3]),
)
def test_a_word_is_a_size_that_may_be_and_in_its_order(
    shape: Shape, key: str, head_mm: float, unit: Unit
) -> None:
    """Smaller words are smaller sizes, whatever is made; all may be chosen."""
    settings = Settings(shape=shape, head_mm=head_mm, unit=unit)
    sizes = [size_mm(settings, key, word) for word in WORDS[key]]
    if key not in shape.asked:
        assert set(sizes) == {None}
        return
    known = [size for size in sizes if size is not None]
    assert known == sorted(set(known))
    assert len(known) == len(WORDS[key])
    assert all(LIMITS[key].hold(size) for size in known)


@pytest.mark.parametrize(
    ("words", "key", "word"),
    # Common usage, no source.
    [
        ("i am aiming for a wide brim", "brim_mm", "wide"),
        ("with a big floppy brim", "brim_mm", "floppy"),
        ("a narrow brim", "brim_mm", "narrow"),
        ("nothing too wide in the brim", "brim_mm", None),
        ("not too wide a brim please", "brim_mm", "narrow"),
        ("not too deep", "depth_mm", "shallow"),
        ("quite shallow", "depth_mm", "shallow"),
        ("down over my ears", "depth_mm", "deep"),
        ("i like it snug", "ease_mm", "snug"),
        ("a loose fit", "ease_mm", "loose"),
        ("a seven centimetre wide brim", None, None),
        ("how wide a brim", None, None),
    ],
)
def test_the_size_that_words_tell(words: str, key: str | None, word: str | None) -> None:
    found = size_in(words, State())
    if key is None:
        assert found is None
        return
    assert found is not None
    assert found.key == key
    wanted = size_mm(Settings(), key, word or "narrow")
    assert found.amount.mm(Unit.INCH) == pytest.approx(wanted)


@pytest.mark.parametrize("place", ["I-head", "I-yarn", "I-hook", "I-brim", "I-begin"])
def test_it_is_read_back_with_its_number_at_any_question(place: str) -> None:
    before, (reply, other) = said(place, "I'm aiming for a wide brim", "change the brim to seven")
    unit = reply.state.settings.unit
    assert reply.state.settings.brim > 1.4 * Settings(unit=unit).brim
    number = "nine" if unit is Unit.CM else "three and a half"
    assert reply.say.startswith(f"A brim of {number}")
    assert other.state.settings.brim == pytest.approx(7 * (10 if unit is Unit.CM else 25.4))
    if before.question != "brim_mm":
        assert reply.state.question == before.question


TOLD = st.sampled_from(
    [
        ("it's for my husband", "head_mm"),
        ("a hat for my sister", "head_mm"),
        ("some chunky wool", "yarn"),
        ("I've got DK cotton here", "yarn"),
        ("my hook is a five millimetre hook", "hook_mm"),
    ]
)


@given(st.sampled_from(QUESTIONS[:7]), TOLD)
def test_what_is_told_early_is_taken_and_the_question_stays(
    question: str, told: tuple[str, str]
) -> None:
    words, key = told
    place = {"head_mm": "I-head", "yarn": "I-yarn", "hook_mm": "I-hook", "terms": "I-terms"}
    before, (reply,) = said(place.get(question, "I-stitch"), words)
    assert key in reply.state.answered
    assert reply.refused is None
    if before.question != key:
        assert reply.state.question == before.question


def test_what_is_told_at_the_question_of_the_unit_is_taken() -> None:
    state = done(State(), c.HeadOf(None, Sex.MALE))
    assert state.question == "unit"
    for words, key in (("some chunky wool", "yarn"), ("it's for my wife", "head_mm")):
        found = understood(words, state)
        after = done(state, *found.commands)
        assert key in after.answered
        assert after.question == "unit"


@pytest.mark.parametrize(
    ("words", "said_back", "mm"),
    [
        ("it's for my husband", "A grown man's head, about", head_median_mm(30, Sex.MALE)),
        ("my mum", "A grown woman's head, about", head_median_mm(30, Sex.FEMALE)),
        ("a girl of six", "The head of a girl of six years, about", head_median_mm(6, Sex.FEMALE)),
        ("eight months", "The head of a baby of eight months, about", None),
        (
            "I don't know the size, but it's for a wee girl of six",
            "The head of a girl of six years, about",
            head_median_mm(6, Sex.FEMALE),
        ),
        ("my husband's head is fifty eight", "Fifty eight centimetres.", 580.0),
        ("an adult", "A grown head, about", None),
    ],
)
def test_a_wearer_is_read_back_with_the_size(words: str, said_back: str, mm: float | None) -> None:
    """Medians: as head_median_mm."""
    _, (reply,) = said("I-head", words)
    assert reply.say.startswith(said_back)
    assert "Age" not in reply.say
    if mm is not None:
        assert reply.state.settings.head_mm == pytest.approx(mm)


@pytest.mark.parametrize("place", ["R", "M", "A", "S", "B"])
def test_how_big_it_should_be_is_about_the_piece_and_not_about_shade(place: str) -> None:
    before, (reply, now) = said(
        place, "how wide should it be by now", "what am I supposed to do now"
    )
    assert reply.command == c.Ask(c.Asked.SIZE_NOW)
    assert reply.state == now.state == before
    assert "shade" not in reply.say
    assert before.offered is not None
    assert "Round" in now.say


def test_at_the_ring_too() -> None:
    ring = done(State(), c.Begin())
    found = understood("how wide should it be by now", ring)
    assert found.commands == (c.Ask(c.Asked.SIZE_NOW),)
    assert size_now.told(ring).startswith("Nothing is worked yet. The crown ends about")
    assert understood("what am I supposed to do now", ring).commands == (c.Ask(c.Asked.AGAIN),)


@given(st.floats(0.75, 1.4), st.integers(2, 12))
def test_a_crown_never_ends_narrower_than_it_is(loose: float, finished: int) -> None:
    """However many stitches it has too few or too many to lie flat."""
    crown = until(
        lambda now: now.piece.finished == finished, begun(yarn=4, hook_mm=5.0, head_mm=560.0)
    )
    piece = crown.piece
    gauge = exactly(piece.gauge.width_mm * loose, piece.gauge.height_mm)
    told = size_now.told(replace(crown, piece=replace(piece, gauge=gauge)))
    now, ends = (amounts(said_plainly(part))[0].value for part in told.split(" The crown ends "))
    assert ends >= now, told
