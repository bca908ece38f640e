"""What goes on, what lets go, what goes back, and mishaps: one question at a time."""

from __future__ import annotations

import pytest

from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.shape.reading_kinds import Kind, Look
from pattern.shape.rounds import Stage
from tests.pieces import begun, told
from tests.wordings.places import said
from voice.caller.reply import Verdict
from voice.words import phrases
from voice.words.grammar import sentences
from voice.words.phrases import PHRASES

ON = ("okay", "ok", "got it", "done", "finished", "go on", "carry on", "ready")


@pytest.mark.parametrize("words", ON)
@pytest.mark.parametrize("place", ["R", "A", "S", "B"])
def test_goes_on_where_a_round_or_a_request_stands(place: str, words: str) -> None:
    before, (reply,) = said(place, words)
    assert reply.state.piece.finished == before.piece.finished + 1


@pytest.mark.parametrize("words", ["go on", "carry on", "continue", "ready", "resume"])
def test_resumes_after_a_pause(words: str) -> None:
    before, (reply,) = said("P", words)
    assert before.paused
    assert not reply.state.paused
    assert reply.state.piece == before.piece


@pytest.mark.parametrize("words", ["okay", "got it", "done", "next", "yes", "i'm ready"])
def test_nothing_else_ends_a_pause(words: str) -> None:
    before, (reply,) = said("P", words)
    assert reply.state == before
    assert reply.verdict is not Verdict.DONE


def test_the_ear_listens_for_no_okay() -> None:
    heard = {
        " ".join(found)
        for phrase in PHRASES
        for form in phrase.also
        if "<" not in form
        for found in sentences(phrases.grammar.parse(form), {})
    }
    listened = {form for phrase in PHRASES for form in phrase.forms}
    assert {"okay", "got it", "finished", "not now", "later", "never mind"} <= heard
    assert not heard & listened


@pytest.mark.parametrize("words", ["one more round", "one more row", "add a round", "another row"])
def test_one_more_round_of_brim_is_worked_as_offered(words: str) -> None:
    before, (reply,) = said("F", words)
    assert before.stage is Stage.FINISHING
    assert reply.state.offered is not None
    assert reply.state.offered.number == before.piece.finished + 1
    _, (asks, _) = said("B", words, "yes")
    assert asks.verdict is Verdict.ASKED


@pytest.mark.parametrize("words", ["not now", "later", "never mind", "skip", "cancel"])
def test_a_request_is_let_go(words: str) -> None:
    before, (reply,) = said("A", words)
    assert before.want is not None
    assert reply.state.want is None
    assert reply.state.piece == before.piece


def test_back_to_a_round_is_asked_about() -> None:
    before, (asks, done) = said("R", "go to round five", "yes")
    assert before.piece.finished == 7
    assert asks.say == "Rip back three rounds to round five? Yes or no."
    assert done.state.offered is not None
    assert done.state.offered.number == 5


def test_a_round_that_is_not_worked_yet_is_no_way_back() -> None:
    before, (here, later) = said("R", "go to round eight", "go to round twelve")
    assert here.state == later.state == before
    assert "Round eight" in here.say


def test_starting_over_is_asked_about() -> None:
    before, (asks, left) = said("R", "start over", "no")
    assert asks.say == "Rip back seven rounds, and start over? Yes or no."
    assert left.state == before
    assert said("R", "start over", "yes")[1][-1].state.piece.finished == 0


def test_cancelling_is_asked_about() -> None:
    _, (asks, done) = said("R", "cancel", "yes")
    assert asks.asks == c.Undo()
    assert done.state.piece.finished == 6


@pytest.mark.parametrize("words", ["what did I just tell you", "what did I tell you last"])
def test_what_was_told_last(words: str) -> None:
    _, (_, reply) = said("S", "around fifty six", words)
    assert reply.command == c.Ask(c.Asked.TOLD)
    assert "ifty six" in reply.say


@pytest.mark.parametrize(
    ("words", "question", "number", "command"),
    [
        ("I've lost my place", "between two increases", "six", c.LostAt(6, between=True)),
        ("I've lost my place", "between two increases", "forty all around", c.LostAt(40)),
        ("I lost count", "from the marker to the hook", "twelve", c.CountedIn(12)),
        ("I dropped a stitch", "last whole round", "forty one", c.Counted(41)),
        ("I've made a mistake", "last whole round", "forty three", c.Counted(43)),
        ("I think I missed a stitch", "last whole round", "forty one", c.Counted(41)),
    ],
)
def test_a_mishap_leads_to_the_number_that_mends_it(
    words: str, question: str, number: str, command: c.Command
) -> None:
    before, (asks, done) = said("R", words, number)
    assert question in asks.say
    assert asks.say.endswith("?") or asks.say.endswith("all around.")
    assert asks.state == before
    assert done.command == command
    assert done.refused is None


def test_anything_else_asks_for_the_number_again() -> None:
    before, (asks, again, gone) = said("R", "I lost count", "flibber wugs", "never mind")
    assert again.say == asks.say
    assert gone.say.startswith("All right")
    assert gone.state == before


@pytest.mark.parametrize(("words", "off"), [("I have one stitch too few", -1), ("one too many", 1)])
def test_one_off_is_of_the_round_that_was_called(words: str, off: int) -> None:
    before, (asks, done) = said("R", words, "yes")
    assert before.offered is not None
    count = before.offered.after + off
    assert asks.asks == c.Counted(count)
    assert done.state.piece.stitches == count
    assert done.state.piece.finished == before.piece.finished + 1


def test_sides_started_much_too_early_are_asked_about() -> None:
    before, (asks, again, no) = said("R", "start the sides", "next", "no")
    assert asks.say.startswith("The crown is about eleven centimetres across")
    assert again.say == asks.say
    assert no.state.piece == before.piece
    assert said("R", "start the sides", "yes")[1][-1].state.stage is Stage.SIDES


def test_sides_started_where_they_nearly_fit_are_begun() -> None:
    state = begun()
    while state.piece.stitches < 0.9 * state.settings.girth_mm / state.piece.gauge.width_mm:
        state = told(state, c.Next(), c.Skip())
    assert told(state, c.StartSides()).stage is Stage.SIDES


def test_sides_that_cup_are_right() -> None:
    before, (reply,) = said("S", "it cups")
    assert reply.say == "That's right: the sides turn down."
    assert reply.state == before


@pytest.mark.parametrize("look", [Look.RIPPLES, Look.CUPS])
def test_a_look_said_again_in_the_same_round_is_no_new_evidence(look: Look) -> None:
    state = told(begun(), *[c.Next()] * 7)
    once = fold(state, decide(state, c.Lies(look)))
    again = fold(once, decide(once, c.Lies(look)))
    assert once.piece.gauge != state.piece.gauge
    assert again.piece == once.piece
    later = told(again, c.Next())
    assert fold(later, decide(later, c.Lies(look))).looked == (look, later.piece.finished)


def test_a_reading_that_was_asked_for_keeps_its_place() -> None:
    _, (reply,) = said("A", "fifty six and a half")
    assert reply.state.taken is not None
    assert reply.state.taken.reading.kind is Kind.AROUND
