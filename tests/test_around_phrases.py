"""Politeness around phrases changes nothing of what they mean."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pattern.session import commands as c
from tests.wordings.places import FOLDER, cases, others, said
from voice.caller.reply import Verdict
from voice.words import phrases
from voice.words.free.around_phrases import after_yes, greets, last_clause, phrase_in

PHRASES = (
    "next",
    "again",
    "slower",
    "where am i",
    "undo",
    "pause",
    "across six and a half",
    "help",
)
BEFORE = st.sampled_from(
    ["", "okay", "lovely", "thanks", "yup", "right then", "please", "oh, sorry"]
)
AFTER = st.sampled_from(["", "please", "love", "dear", "now", "thank you", "then, if you would"])
"""Common usage, no source."""


@given(BEFORE, st.sampled_from(PHRASES), AFTER)
def test_a_phrase_in_polite_company_is_the_phrase(before: str, phrase: str, after: str) -> None:
    words = f"{before} {phrase} {after}"
    assume(phrases.read(words) is None)
    assert phrase_in(words) == phrases.read(phrase)


@given(st.sampled_from(["yes", "yep", "yeah, sure"]), st.sampled_from(PHRASES))
def test_a_yes_may_be_followed_by_a_phrase(yes: str, phrase: str) -> None:
    assert after_yes(f"{yes}, {phrase}") == phrases.read(phrase)
    assert after_yes(f"no, {phrase}") is None
    assert last_clause(f"the dog has just come in, {yes} {phrase}") == phrases.read(phrase)
    assert last_clause(phrase) is None


def test_yes_and_a_phrase_do_both_but_nothing_twice() -> None:
    _, (asks, done) = said("R", "I only ended up with eleven", "yes, next")
    assert isinstance(asks.asks, c.Counted)
    assert isinstance(done.command, c.Next)
    _, (asks, once) = said("R", "I've reached the end", "yup next")
    assert asks.asks == c.Next()
    assert once.state.piece.finished == asks.state.piece.finished + 1


@pytest.mark.parametrize(
    ("words", "command"),
    [
        ("my daughter just rang, where was I", c.Ask(c.Asked.WHERE)),
        ("sorry, the kettle was on: say that again", c.Ask(c.Asked.AGAIN)),
        ("do you want me to measure it", c.Ask(c.Asked.READING)),
        ("how big across should the crown be when it's finished", c.Ask(c.Asked.SIZE_NOW)),
        ("did that", c.Next()),
        ("good morning", c.Ask(c.Asked.AGAIN)),
    ],
)
def test_said_at_work(words: str, command: c.Command) -> None:
    _, (reply,) = said("R", words)
    assert reply.command == command


@pytest.mark.parametrize(
    "words", ["I had to undo a few stitches", "just pulled out three stitches"]
)
def test_some_stitches_undone_are_found_by_counting_to_the_hook(words: str) -> None:
    before, (reply,) = said("R", words)
    assert reply.say == "How many stitches are there from the marker to the hook?"
    assert reply.state.piece == before.piece


@pytest.mark.parametrize("words", ["that's everything, let's crack on", "that's all", "carry on"])
def test_whoever_wants_nothing_else_begins(words: str) -> None:
    _, (reply,) = said("I-begin", words)
    assert reply.verdict is Verdict.DONE
    assert reply.state.question is None


def test_a_last_clause_that_changes_the_piece_is_asked_about() -> None:
    before, (reply,) = said("R", "well that was a lot of fuss over a cardigan, next")
    assert reply.verdict is Verdict.ASKED
    assert reply.state.piece == before.piece


def test_a_greeting_is_no_talk_to_others() -> None:
    assert greets("Good evening!")
    assert not any(greets(words) for words in others())


def test_of_one_near_thing_a_yes_does_it_and_anything_else_lets_it_go() -> None:
    offered = 0
    for case in cases(FOLDER / "kept_apart.txt"):
        before, (offers,) = said(case.place, case.said)
        if not offers.say.endswith(": shall I?"):
            continue
        offered += 1
        assert offers.state == before
        _, (_, done) = said(case.place, case.said, "yes")
        assert done.command is not None
        assert not isinstance(done.command, c.Yes)
        _, (_, goes_on) = said(case.place, case.said, "where am i")
        assert goes_on.command == c.Ask(c.Asked.WHERE)
    assert offered
