"""Trying on, by ear: requests that can be held, and advice that can be followed."""

from __future__ import annotations

import pytest

from pattern.session import commands as c
from pattern.session.commands import Fit
from pattern.shape.rounds import Stage
from tests.wordings.places import caller_at, said
from voice.caller.reply import Verdict

BEFORE_THE_ROUND = 27
"""Words of a request, with "or go on": our choice."""
SITS = ("too tight", "snug", "just right", "a little loose", "it slides down", "two fingers fit")
BRIM = (
    "the brim falls well",
    "it droops",
    "the brim is floppy",
    "it stands up",
    "it hides my eyes",
    "wide enough",
)


@pytest.mark.parametrize("means", ["i can try it on", "i have no tape"])
def test_a_request_is_over_before_the_round_is_forgotten(means: str) -> None:
    caller = caller_at("R")
    caller.hear(means)
    asked = []
    for _ in range(80):
        if caller.state.offered is None:
            break
        words = caller.hear("yes" if caller.state.doubt else "next").say
        if caller.state.want is not None and caller.state.offered is not None:
            request = words.partition("Round")[0].partition("or go on with")[0]
            assert len(request.split()) <= BEFORE_THE_ROUND, words
            asked.append(request)
    trying = [request for request in asked if "does it slide down" in request]
    assert trying[0].startswith("Put a marker through the loop")
    assert all(request.startswith("Mark the loop") for request in trying[1:])


@pytest.mark.parametrize(("place", "words"), [*(("S", w) for w in SITS), *(("B", w) for w in BRIM)])
def test_what_is_to_be_done_comes_early(place: str, words: str) -> None:
    _, (reply,) = said(place, words)
    advice = reply.say.partition("Round")[0]
    assert len(advice.split()) <= BEFORE_THE_ROUND, advice


@pytest.mark.parametrize("words", ["it droops", "it ripples", "wide enough", "it stands up"])
def test_after_the_last_round_no_next_round_is_spoken_of(words: str) -> None:
    before, (reply,) = said("F", words)
    assert before.stage is Stage.FINISHING
    advice = reply.say.partition("To end the spiral")[0]
    assert "next round" not in advice
    assert "more round" not in advice


def test_a_brim_that_hides_the_eyes_is_offered_no_round_more() -> None:
    _, (reply, more) = said("B", "it hides my eyes", "tell me more")
    assert reply.state.stage is Stage.FINISHING
    assert "one more round" not in reply.say
    assert "rip back" in reply.say
    assert more.say == "If it still hides them, rip back a round or two, and work the last firmly."


@pytest.mark.parametrize(
    ("words", "fit"),
    [
        ("too short", Fit.SHORT),
        ("it's a bit too shallow on me", Fit.SHORT),
        ("the sides are too short by two", Fit.SHORT_BY),
        ("it's two centimetres too short", Fit.SHORT_BY),
        ("it feels too deep", Fit.BELOW),
        ("too long by one centimetre", Fit.DEEP_BY),
        ("too loose round the forehead", Fit.LOOSE),
        ("it's a bit big on his head", Fit.LOOSE),
        ("far too big round the forehead", Fit.SLIDES),
        ("it comes down over my eyebrows", Fit.BELOW),
        ("a bit tight around the ears", Fit.TIGHT),
    ],
)
def test_how_it_sits_and_where_it_ends_are_words_of_trying_on(words: str, fit: Fit) -> None:
    before, (reply,) = said("S", words)
    told = reply.asks or reply.command
    assert isinstance(told, c.TriedOn)
    assert told.fit is fit
    if reply.asks is not None:
        assert reply.state == before


def test_well_above_is_not_just_above() -> None:
    """As it is offered: the answer in the words of the question."""
    _, (reply,) = said("S", "well above the eyebrows")
    assert reply.command == c.TriedOn(Fit.SHORT)
    assert reply.state.stage is Stage.SIDES


@pytest.mark.parametrize(
    "words", ["no, leave it", "leave it as it is", "no thanks, leave it", "no, keep it"]
)
def test_to_leave_it_is_a_no_where_a_question_stands(words: str) -> None:
    before, (_, reply) = said("S", "rip back one round", words)
    assert reply.state.piece == before.piece
    assert reply.verdict is Verdict.DONE
    assert reply.say.startswith("All right, I leave it.")


def test_to_keep_a_reading_in_doubt_is_a_yes() -> None:
    _, (doubted, reply) = said("R", "across nineteen", "keep it")
    assert doubted.state.doubt is not None
    assert reply.state.doubt is None
    assert reply.say.startswith("Nineteen across.")
