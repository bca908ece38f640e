"""Free wording by voice: done, or asked about where it changes the piece; talk does nothing."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, replace
from pathlib import Path
from typing import get_args

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pattern.journal.journal import Journal
from pattern.session import commands as c
from pattern.session.decisions import leaves_piece
from pattern.session.history import CODEC
from pattern.session.state import State
from pattern.trade.lengths import Amount
from tests.pieces import NEXT, begun, told
from tests.sound_helpers import Says
from tests.test_conversation import BreakingRoom, Call, taking_up
from tests.wordings.places import caller_at
from voice.caller.caller import Caller
from voice.caller.keeping import Unkept
from voice.caller.spoken import Spoken
from voice.caller.unheard import kept
from voice.hearing.attention import Attention, Called, When
from voice.hearing.context import context_of, wanting_number
from voice.hearing.evidence import Action, Evidence, Reason
from voice.hearing.free_wording import (
    BOUNDS,
    FEWEST_WORDS,
    LIKELY_TEXT,
    MOST_OTHERS,
    SURE_CALLED,
    SURE_NUMBER,
    SURE_SPOKEN,
    measures,
)
from voice.hearing.listening import Hearing
from voice.hearing.utterance_part import Part
from voice.hearing.verdict import verdict
from voice.recognisers.chosen import NET, open_recogniser
from voice.recognisers.recogniser import Hypothesis, Opinion
from voice.sentences import asked_first, asked_further
from voice.sound.ports import RATE_HZ
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer
from voice.words.attention_words import CHOICES
from voice.words.free import wanted
from voice.words.free.wanted import Number, Wanted
from voice.words.free.word_order import learnt_order
from voice.words.spoken_numbers import say_integer

WORKING = told(begun(), *[NEXT] * 6)
LEAD = Attention().words
SLOWER = "could you speak a bit slower please"


def evidence(text: str = SLOWER, score: float = 1.0, part: Part = Part.WHOLE) -> Evidence:
    """An utterance that is no phrase, and its text in free English."""
    return Evidence(Opinion((), "ear"), part, texts=(Hypothesis(text, score),))


def heard_as(*texts: tuple[str, float], lead: bool = False) -> Evidence:
    """An utterance that may be several texts, perhaps after the attention words."""
    begun_with = Opinion((Hypothesis(LEAD, 0.001),) if lead else (), "ear")
    words = tuple(Hypothesis(f"{LEAD} {text}" if lead else text, score) for text, score in texts)
    return Evidence(begun_with, texts=words)


@given(st.floats(0.0, 1.0), st.booleans(), st.sampled_from(range(len(SURE_SPOKEN))))
def test_what_is_surely_meant_is_done(score: float, led: bool, others: int) -> None:
    """Sure is what its chance, the order of its words and their number make likely together."""
    context = context_of(WORKING, attention=Attention(when=When.NEVER, others_s=(0.0,) * others))
    assert context.free is not None
    (chance,) = (
        match.chance for match in context.free(SLOWER) if match.command == c.Speak(c.Manner.SLOWER)
    )
    odds = BOUNDS.log_odds(measures(score * chance, SLOWER, learnt_order(), expected=False))
    sure = score >= LIKELY_TEXT and odds >= (SURE_CALLED if led else SURE_SPOKEN[others])
    found = verdict(heard_as((SLOWER, score), lead=led), context)
    assert (found.action is Action.ACT) is sure
    assert (found.command == c.Speak(c.Manner.SLOWER)) is sure
    assert (found.reason is Reason.FREE) is sure
    assert found.called is (Called.YES if sure and led else Called.NOT)


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.booleans())
def test_the_odds_rise_with_the_chance_and_with_what_is_expected(
    one: float, other: float, expected: bool
) -> None:
    order = learnt_order()
    low, high = (
        BOUNDS.log_odds(measures(chance, SLOWER, order, expected=expected))
        for chance in sorted((one, other))
    )
    assert low <= high
    open_, closed = (
        BOUNDS.log_odds(measures(one, SLOWER, order, expected=answers)) for answers in (True, False)
    )
    assert closed <= open_
    assert min(SURE_SPOKEN) > SURE_CALLED
    assert sorted(SURE_SPOKEN) == [*SURE_SPOKEN]


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
    numbered = {
        kind
        for kind in get_args(c.Command)
        if any(re.search(r"\b(int|float|Amount)\b", str(field.type)) for field in fields(kind))
    }
    assert numbered >= {c.Answer, c.Rests, c.LostAt}
    assert changing | numbered | {c.Leave} <= asked


def test_texts_that_mean_the_same_are_likely_together() -> None:
    context = context_of(WORKING)
    scores = (share / 100 for share in range(1, 100))
    least = next(s for s in scores if verdict(heard_as((SLOWER, s)), context).command)
    texts = ((SLOWER, 0.7 * least), ("can you speak a bit slower please", 0.6 * least))
    found = verdict(heard_as(*texts), context)
    assert (found.action, found.command) == (Action.ACT, c.Speak(c.Manner.SLOWER))
    for text in texts:
        assert verdict(heard_as(text), context).action is Action.SILENT


HEAD_ASKED = caller_at("I-head").state


@given(st.floats(0.05, 1.0))
def test_a_number_in_doubt_is_asked_about_though_it_is_only_read_back(share: float) -> None:
    assume(abs(max(share, 1 - share) - SURE_NUMBER) > 1e-6)
    said = "my head is fifty {} centimetres"
    texts = ((said.format("eight"), share), (said.format("nine"), 1 - share))
    found = verdict(heard_as(*texts), context_of(HEAD_ASKED))
    assert (found.action is Action.ACT) is (max(share, 1 - share) >= SURE_NUMBER)
    likelier = 58.0 if share >= 0.5 else 59.0
    assert isinstance(found.command, c.Answer | c.Change | c.Measured)
    assert share == 0.5 or found.command.amount.value == likelier


def test_of_two_numbers_in_one_sentence_none_is_taken_unasked() -> None:
    found = verdict(heard_as(("my head is fifty eight or fifty nine", 1.0)), context_of(HEAD_ASKED))
    assert found.action is not Action.ACT


@pytest.mark.parametrize(
    ("said", "command", "action"),
    [
        ("right lets get going again now", c.Resume(), Action.ACT),
        ("i have finished my tea we can go on", c.Resume(), Action.ASK),
        (SLOWER, None, Action.SILENT),
    ],
)
def test_in_a_pause_a_plain_phrase_resumes_and_else_what_ends_it_is_asked_about(
    said: str, command: c.Command | None, action: Action
) -> None:
    paused = told(WORKING, c.Pause())
    unwritten = verdict(Evidence(Opinion((), "ear")), context_of(paused))
    assert unwritten.wants_text
    found = verdict(heard_as((said, 1.0)), context_of(paused))
    assert found.command == command
    assert found.action is action


def test_what_was_probably_meant_and_is_not_understood_is_told_to_the_keeper() -> None:
    context = context_of(WORKING)
    near = verdict(heard_as((SLOWER, 0.06)), context)
    assert (near.action, near.missed) == (Action.SILENT, SLOWER)
    talk = "the older boy looked over the edge and laughed"
    assert verdict(heard_as((talk, 1.0)), context).missed == ""
    called = verdict(heard_as((talk, 1.0), lead=True), context_of(WORKING, attention=NEEDED))
    assert called.missed == talk


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


def test_fewer_words_are_taken_only_where_they_answer_what_is_open() -> None:
    short = " ".join(["slower"] * (FEWEST_WORDS - 1))
    assert verdict(evidence(short), context_of(WORKING)).action is Action.SILENT
    yarn = caller_at("I-yarn").state
    assert verdict(evidence("super chunky"), context_of(yarn)).action is Action.ACT
    assert (
        verdict(evidence("super chunky"), context_of(caller_at("R").state)).action is Action.SILENT
    )


@pytest.mark.parametrize("talk", ["no not that one", "all of them", "it is open", "so i did"])
def test_short_words_are_an_answer_to_somebody_else(talk: str) -> None:
    assert verdict(evidence(talk), context_of(WORKING)).action is Action.SILENT


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


def test_a_mishap_is_followed_by_its_question_and_a_number_alone_answers_it(
    call: Call, voice: Renderer
) -> None:
    """As where it is typed: the words that were heard, and the number, lead to the same replies."""
    for _ in range(4):
        call.caller.hear("next")
    typed = Caller(Unkept("hat"))
    typed.open()
    for words in ("begin", "next", "brief", *["next"] * 4):
        typed.hear(words)
    spoken = says(call, voice, "I dropped a stitch somewhere", "twelve")
    assert call.watch.taken[-2:] == ["i dropped a stitch somewhere", "twelve"]
    assert spoken == [typed.hear(words).say for words in call.watch.taken[-2:]]
    assert spoken[0].endswith(asked_further.number(Wanted(Number.ROUND)))


@given(st.sampled_from([*wanted._MENDED_BY]), st.integers(1, 90))
def test_spoken_mishaps_end_as_typed_ones(mishap: c.Command, count: int) -> None:
    caller = caller_at("R")
    spoken, words = Spoken(caller), say_integer(count)
    assert not spoken.wants_number
    asked = spoken.take(mishap, "in words of the makers own", freely=True)
    expected = wanted.mending(mishap, caller.state)
    assert expected is not None
    assert asked.say.endswith(asked_further.number(expected))
    assert spoken.wants_number
    state, answer = caller.state, wanted.answering(expected, words)
    told_ = spoken.take(c.Answer(Amount(float(count))), words, freely=False)
    assert not spoken.wants_number
    assert answer is not None
    assert told_.command == answer
    caller_then = caller_at("R")
    assert caller_then.state == state
    assert caller_then.take(answer).say == told_.say


@given(st.sampled_from([*wanted._MENDED_BY]))
def test_a_phrase_of_the_table_leads_to_no_such_question(mishap: c.Command) -> None:
    spoken = Spoken(caller_at("R"))
    spoken.take(mishap, "i dropped a stitch", freely=False)
    assert not spoken.wants_number


def test_where_a_number_is_wanted_it_may_be_said_alone() -> None:
    state = caller_at("R").state
    alone = Evidence(Opinion((Hypothesis("twelve", 0.9),), "ear"), waited=True)
    context = context_of(state)
    assert verdict(alone, context).action is not Action.ACT
    found = verdict(alone, wanting_number(context))
    assert (found.action, found.command) == (Action.ACT, c.Answer(Amount(12.0)))


@pytest.mark.parametrize("keeps", [True, False])
def test_what_is_not_understood_is_kept_as_typed_words_are(tmp_path: Path, keeps: bool) -> None:
    """The real conversation, with a recogniser that hears something near to what was meant."""
    says_ = Says(Opinion((), "ear"), texts=(Hypothesis(SLOWER, 0.06),))
    with Journal.open(tmp_path, "x", CODEC) as journal, Renderer() as ours:
        caller = Caller(journal, keeps_unheard=keeps)
        caller.open()
        call = Call(caller, Hearing(says_), ours, BreakingRoom())
        call.room.speak(ours.render("something or other"))
        call.wait(4.0)
    assert [words.said for _, words in kept(tmp_path)] == ([SLOWER] if keeps else [])


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
