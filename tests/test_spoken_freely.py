"""Free wording by voice: done, or asked about where it changes the piece; talk does nothing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import get_args

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.journal.journal import Journal
from pattern.session import commands as c
from pattern.session.decisions import leaves_piece
from pattern.session.history import CODEC
from pattern.session.state import State
from tests.pieces import NEXT, begun, told
from tests.sound_helpers import Says
from tests.test_conversation import BreakingRoom, Call, taking_up
from voice.hearing.attention import Attention, Called, When
from voice.hearing.context import context_of
from voice.hearing.evidence import Action, Evidence, Reason
from voice.hearing.free_wording import FEWEST_WORDS, MOST_OTHERS, SURE_CALLED, SURE_SPOKEN
from voice.hearing.listening import Hearing
from voice.hearing.utterance_part import Part
from voice.hearing.verdict import verdict
from voice.recognisers.chosen import NET, open_recogniser
from voice.recognisers.recogniser import Hypothesis, Opinion
from voice.sentences import asked_first
from voice.sound.ports import RATE_HZ
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer
from voice.words.attention_words import CHOICES

WORKING = told(begun(), *[NEXT] * 6)
SLOWER = "could you speak a bit slower please"


def evidence(text: str = SLOWER, score: float = 1.0, part: Part = Part.WHOLE) -> Evidence:
    """An utterance that is no phrase, and its text in free English."""
    return Evidence(Opinion((), "ear"), part, texts=(Hypothesis(text, score),))


@given(st.floats(0.0, 1.0), st.booleans())
def test_what_is_surely_meant_is_done(score: float, led: bool) -> None:
    lead = Attention().words
    context = context_of(WORKING, attention=Attention(when=When.NEVER))
    said = evidence(f"{lead} {SLOWER}" if led else SLOWER, score)
    if led:
        said = Evidence(Opinion((Hypothesis(lead, 0.001),), "ear"), texts=said.texts)
    assert context.free is not None
    chance = context.free(SLOWER).chance
    found = verdict(said, context)
    sure = score * chance >= (SURE_CALLED if led else SURE_SPOKEN)
    assert (found.action is Action.ACT) is sure
    assert (found.command == c.Speak(c.Manner.SLOWER)) is sure
    assert (found.reason is Reason.FREE) is sure


@pytest.mark.parametrize(
    ("said", "command"),
    [
        ("i need to frog two rounds", c.RippedBack(2)),
        ("ripped back two rounds", c.RippedBack(2)),
        ("that will do for today thank you", c.Leave()),
    ],
)
def test_what_changes_the_piece_or_ends_the_call_is_asked_first(
    said: str, command: c.Command
) -> None:
    """A phrase of the table as well: it was not heard as that phrase."""
    found = verdict(evidence(said), context_of(WORKING))
    assert (found.action, found.reason) == (Action.ASK, Reason.FREE_CHANGE)
    assert found.candidates == (command,)
    assert asked_first.question(command, WORKING).endswith("? Yes or no.")


def test_every_command_that_is_asked_about_has_a_question() -> None:
    asked = {*asked_first._QUESTIONS, *asked_first._PLAIN}
    changing = {kind for kind in get_args(c.Command) if not leaves_piece(object.__new__(kind))}
    assert changing | {c.Leave} <= asked


def test_texts_that_mean_the_same_are_likely_together() -> None:
    texts = (Hypothesis(SLOWER, 0.5), Hypothesis("can you speak slower please", 0.48))
    found = verdict(Evidence(Opinion((), "ear"), texts=texts), context_of(WORKING))
    assert max(each.score for each in texts) < SURE_SPOKEN
    assert (found.action, found.command) == (Action.ACT, c.Speak(c.Manner.SLOWER))
    alone = verdict(Evidence(Opinion((), "ear"), texts=texts[:1]), context_of(WORKING))
    assert alone.action is Action.SILENT


TALKS, NEEDED = Attention(others_s=(0.0,) * (MOST_OTHERS + 1)), Attention(when=When.ALWAYS)


@pytest.mark.parametrize("part", [Part.TAIL, Part.REST])
def test_a_part_is_not_written_down(part: Part) -> None:
    found = verdict(evidence(part=part), context_of(WORKING))
    assert (found.action, found.wants_text) == (Action.SILENT, False)


@pytest.mark.parametrize("attention", [TALKS, NEEDED], ids=["others talk", "needed"])
@pytest.mark.parametrize("texts", [None, evidence().texts])
def test_nothing_is_written_down_where_it_may_be_meant_for_others(
    attention: Attention, texts: tuple[Hypothesis, ...] | None
) -> None:
    said = Evidence(Opinion((), "ear"), texts=texts)
    found = verdict(said, context_of(WORKING, attention=attention))
    assert (found.action, found.wants_text) == (Action.SILENT, False)
    amid = Evidence(Opinion((), "ear"), amid_talk=True, texts=texts)
    found = verdict(amid, context_of(WORKING, attention=Attention()))
    assert (found.action, found.wants_text) == (Action.SILENT, False)


@pytest.mark.parametrize("heard", [0.0, 0.001, 0.9])
@pytest.mark.parametrize("led", [True, False])
def test_what_may_follow_the_attention_words_is_written_and_must_follow_them(
    heard: float, led: bool
) -> None:
    """Whether they came is seen in the text; that is found only where they may have come."""
    lead, context = NEEDED.words, context_of(WORKING, attention=NEEDED)
    opinion = Opinion((Hypothesis(f"{lead} next", heard),) if heard else (), "ear")
    asked = Evidence(opinion, amid_talk=True, waited=True)
    if heard < 0.5:
        assert verdict(asked, context).wants_text is (heard > 0)
    text = f"{lead} {SLOWER}" if led else SLOWER
    found = verdict(replace(asked, texts=(Hypothesis(text, 1.0),)), context)
    if heard < 0.5:
        done = (c.Speak(c.Manner.SLOWER), Called.YES) if led and heard else (None, Called.NOT)
        assert (found.command, found.called) == done
    else:
        assert found.command == c.Next()


def test_short_words_are_an_answer_to_somebody_else() -> None:
    short = " ".join(["slower"] * (FEWEST_WORDS - 1))
    assert verdict(evidence(short), context_of(WORKING)).action is Action.SILENT


def test_what_is_a_phrase_is_not_written_down() -> None:
    """The net is asked for its text only where nothing else was heard."""
    said = Says(Opinion((Hypothesis("next", 0.99),), "ear"), texts=evidence().texts or ())
    hearing, context = Hearing(said), context_of(WORKING)
    found = verdict(hearing.listen(np.ones(1, np.int16), context), context)
    assert (found.command, found.wants_text) == (c.Next(), False)


# The real net, and real speech


@pytest.fixture(scope="module")
def voice() -> Iterator[Renderer]:
    with Renderer(Delivery(rate_wpm=150)) as shared:
        yield shared


def test_the_net_writes_what_was_said(voice: Renderer) -> None:
    recogniser = open_recogniser(NET)
    for words in (SLOWER, "how many rounds have i still got to do", "i need to frog two rounds"):
        texts = recogniser.write(np.pad(voice.render(words), RATE_HZ // 4))
        assert texts[0].words == words
        assert sum(each.score for each in texts) == pytest.approx(1.0)
    assert recogniser.write(np.zeros(RATE_HZ, np.int16)) == ()


@pytest.fixture
def call(hearing: Hearing, tmp_path: Path) -> Iterator[Call]:
    with Journal.open(tmp_path, "x", CODEC) as journal, Renderer() as ours:
        yield taking_up(hearing, ours, journal, BreakingRoom())


def says(call: Call, voice: Renderer, *said: str) -> list[str]:
    """What is said to some things said in turn."""
    before = len(call.watch.spoken)
    for words in said:
        call.silent()
        call.wait(1.0)
        call.room.speak(voice.render(words))
        call.wait(6.0)
    return call.watch.spoken[before:]


def test_a_question_in_free_words_is_answered(call: Call, voice: Renderer) -> None:
    rate = call.caller.state.speech.rate_wpm
    says(call, voice, SLOWER)
    assert call.caller.state.speech.rate_wpm < rate
    answer = says(call, voice, "how many rounds have I still got to do")
    assert call.watch.taken[-1] == "how many rounds have i still got to do"
    assert answer == [call.caller.hear("how many rounds").say]


@pytest.mark.parametrize(("answer", "left"), [("yes", 1), ("no", 3)])
def test_a_change_in_free_words_is_asked_first(
    call: Call, voice: Renderer, answer: str, left: int
) -> None:
    for _ in range(3 - call.caller.state.piece.finished):
        call.caller.hear("next")
    asked = says(call, voice, "I need to frog two rounds")
    assert asked == ["Rip back two rounds to round two? Yes or no."]
    assert call.caller.state.piece.finished == 3
    says(call, voice, answer)
    assert call.caller.state.piece.finished == left


@pytest.mark.parametrize("lead", [True, False])
def test_where_the_attention_words_are_needed_they_come_first(
    hearing: Hearing, voice: Renderer, tmp_path: Path, lead: bool
) -> None:
    with Journal.open(tmp_path, "x", CODEC) as journal, Renderer() as ours:
        attention = Attention(when=When.ALWAYS)
        call = taking_up(hearing, ours, journal, BreakingRoom(), attention)
        rate = call.caller.state.speech.rate_wpm
        says(call, voice, f"{CHOICES[0]}, {SLOWER}" if lead else SLOWER)
        assert (call.caller.state.speech.rate_wpm < rate) is lead


def test_prose_and_talk_do_nothing(call: Call, voice: Renderer) -> None:
    state: State = call.caller.state
    said = (
        "The rain had stopped before the boat came in.",
        "Her grandmother measured flour for the morning without looking.",
        "My sister called about Sunday and the children.",
        "There is some rice left over from yesterday evening.",
        "We will never make it if you do not stop talking.",
        "The older boy looked over the edge and laughed.",
    )
    says(call, voice, *said)
    assert call.caller.state == state
    assert set(call.watch.taken) == {""}
