"""Long answers come in pages; nothing of them is lost. No outside source."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.journal.journal import Journal
from pattern.session import commands as c
from pattern.session.commands import Asked
from pattern.session.events import WordingChosen
from pattern.session.folding import fold
from pattern.session.history import CODEC
from tests.hats import begun
from voice.caller.caller import Caller
from voice.sentences import opening, reply
from voice.sentences.pages import EAR_WORDS, HINT, first, pages
from voice.words.phrases import TOPICS

SENTENCES = st.integers(1, 60).map(lambda words: "Word" + " word" * (words - 1) + ".")


@given(st.lists(SENTENCES, min_size=1, max_size=12))
def test_every_sentence_is_on_one_page_and_in_its_order(sentences: list[str]) -> None:
    made = pages(" ".join(sentences))
    assert " ".join(made) == " ".join(sentences)
    for page in made[:-1]:
        assert len(f"{page} {HINT}".split()) <= EAR_WORDS or page.count(".") == 1
    assert len(made[-1].split()) <= EAR_WORDS or made[-1].count(".") == 1
    assert first(" ".join(sentences)).startswith(made[0])
    assert first(" ".join(sentences)).endswith(HINT) is (len(made) > 1)


@pytest.mark.parametrize("topic", ["", *sorted(set(TOPICS.values()))])
def test_help_is_no_longer_than_an_ear_holds(topic: str) -> None:
    state = begun()
    said = reply.reply(state, c.Help(topic), (), state)
    assert len(said.split()) <= EAR_WORDS


@pytest.mark.parametrize("what", [Asked.PLAN, Asked.BAND, Asked.EDGING, Asked.FINISHING])
def test_answers_are_no_longer_either(what: Asked) -> None:
    assert len(reply.told(begun(age_years=2.0), what).split()) <= EAR_WORDS


def call(folder: Path, *words: str) -> list[str]:
    """What is said to each of the words, on a new piece."""
    with Journal.open(folder, "x", CODEC) as journal:
        caller = Caller(journal)
        return [caller.open().say, *(caller.hear(said).say for said in words)]


def all_of(folder: Path, words: str, most: int = 9) -> list[str]:
    """Every page of an answer, as one hears it."""
    said = call(folder, "begin", words, *["tell me more"] * most)[2:]
    return said[: next(n for n, page in enumerate(said) if not page.endswith(HINT)) + 1]


@pytest.mark.parametrize(
    "words", ["help", "help with changing", "help with measuring", "say the plan"]
)
def test_tell_me_more_says_it_to_the_end(tmp_path: Path, words: str) -> None:
    said = all_of(tmp_path, words)
    assert len(said) > 1
    assert len(set(said)) == len(said)
    assert all(len(page.split()) <= EAR_WORDS for page in said)


def test_the_plan_comes_first_in_short_then_whole(tmp_path: Path) -> None:
    _, begin, more, end, plan, _, gone = call(
        tmp_path,
        "begin",
        "tell me more",
        "tell me more",
        "say the plan",
        "where am i",
        "tell me more",
    )
    assert "around" in begin
    assert "yarn" not in begin
    assert len(begin.split()) <= 50  # the first round's call is in it
    assert "You need yarn" in more
    assert end == gone
    assert end.startswith("That is all.")
    assert plan.startswith(begin.partition(HINT)[0])


def test_what_was_not_caught_loses_nothing(tmp_path: Path) -> None:
    asked = ("begin", "help with changing")
    *_, page, second = call(tmp_path / "caught", *asked, "tell me more")
    *_, lost, more = call(tmp_path / "lost", *asked, "zebra", "tell me more")
    assert more == second
    assert len({page, second, lost}) == 3


@pytest.mark.parametrize("between", ["again", "slower", "brief"])
def test_tell_me_more_goes_on_after_a_reminder_and_another_manner(
    tmp_path: Path, between: str
) -> None:
    asked = ("begin", "help with changing")
    *_, second = call(tmp_path / "at once", *asked, "tell me more")
    *_, more = call(tmp_path / "after", *asked, between, "tell me more")
    assert more == second
    *_, gone = call(tmp_path / "else", *asked, "next", "tell me more")
    assert gone.startswith("That is all.")


def test_a_childs_cautions_are_in_the_plan(tmp_path: Path) -> None:
    said = call(tmp_path, "a girl of two", "begin", "tell me more", "tell me more")
    assert "no cords" in " ".join(said)


@pytest.mark.parametrize(
    ("age", "head_mm", "cautions"),
    [
        (0.5, 430.0, ("For a child", "cords", "small parts", "sleep")),
        (2.0, 480.0, ("For a child", "cords", "small parts")),
        (5.0, 510.0, ("For a child", "cords")),
        (9.0, 520.0, ()),
        (None, 500.0, ("If it is for a child", "cords", "small parts", "sleep")),
        (None, 570.0, ()),
    ],
)
@pytest.mark.parametrize("brief", [False, True])
def test_what_a_childs_hat_needs_does_not_wait_to_be_asked_for(
    age: float | None, head_mm: float, cautions: tuple[str, ...], brief: bool
) -> None:
    """In the first words, before the call of the ring; the ages are those of CAUTIONS."""
    state = fold(begun(head_mm=head_mm, age_years=age), (WordingChosen(brief),))
    page = opening.opening(state, resumed=False)
    for word in ("For a child", "If it is for a child", "cords", "small parts", "sleep"):
        assert (word in page) is (word in cautions), page
    assert len(opening.plan(state).split()) <= EAR_WORDS
    if cautions:
        assert "cords" in " ".join(opening.rest_of_plan(state))
