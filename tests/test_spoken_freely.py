"""Free wording by voice: done, or asked about where it changes the piece; talk does nothing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import get_args

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pattern.journal.journal import Journal
from pattern.session import commands as c
from pattern.session.decisions import decide, leaves_piece, only_asks, only_tells
from pattern.session.folding import fold
from pattern.session.history import CODEC
from pattern.session.refusals import Refused
from pattern.session.state import State
from pattern.trade.lengths import Amount, Unit
from tests.pieces import NEXT, begun, told
from tests.sound_helpers import Says
from tests.test_conversation import BreakingRoom, Call, taking_up
from tests.wordings.places import FOLDER, caller_at, cases
from voice.caller.caller import Caller
from voice.caller.keeping import Unkept
from voice.caller.spoken import Spoken
from voice.caller.unheard import kept
from voice.hearing.attention import Attention, Called, When
from voice.hearing.context import context_of, wanting_number
from voice.hearing.evidence import Action, Context, Evidence, Reason
from voice.hearing.free_meanings import LIKELY_TEXT, MOST_OTHERS
from voice.hearing.free_odds import AGAIN, ALONE, CALLED, CONSTANTS, measures
from voice.hearing.free_wording import (
    FEW_WORDS,
    FEWEST_WORDS,
    LEAST_CHANCE,
    SURE_NUMBER,
)
from voice.hearing.listening import Hearing
from voice.hearing.utterance_part import Part
from voice.hearing.verdict import attention_after, verdict
from voice.recognisers.chosen import NET, open_recogniser
from voice.recognisers.recogniser import Hypothesis, Opinion
from voice.sentences import asked_first, asked_further
from voice.sound.ports import RATE_HZ
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer
from voice.words.attention_words import CHOICES
from voice.words.free import wanted
from voice.words.free.matched import Match
from voice.words.free.told_at_once import told_aloud, told_at_once
from voice.words.free.wanted import Number, Wanted
from voice.words.numbers_told import tells_a_number
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


BARS = {(False, 0): ALONE, (False, 1): AGAIN, (True, 0): CALLED, (True, 1): CALLED}
"""By whether attention words came first, and how many utterances before were no phrase."""
PLAN = "how many rounds have i still got to do"
RIPPED = "i need to frog two rounds"
NEAR = "such a long story every time"
"""Probably meant for the program, and not clear."""
LIKELY = "my ears want it slow"
"""Likely enough to be asked about, and not to be done."""
RANK = (Action.SILENT, Action.ASK, Action.ACT)


def in_quiet(others: int) -> Attention:
    return Attention(when=When.NEVER, others_s=(0.0,) * others)


def odds_of(best: Match, score: float, said: str, context: Context) -> float:
    """The logarithm of the odds of a meaning of one text."""
    assert best.command is not None
    weight = context.expectation(best.command)
    return CONSTANTS.log_odds(measures(score * best.chance, best.nothing, said, weight))


@given(
    st.sampled_from([SLOWER, PLAN, RIPPED]),
    st.floats(0.0, 1.0),
    st.sampled_from(sorted(BARS)),
)
def test_what_comes_of_it_follows_from_its_odds(
    said: str, score: float, where: tuple[bool, int]
) -> None:
    """Odds are what its measures make."""
    (led, others), bars = where, BARS[where]
    context = context_of(WORKING, attention=in_quiet(others))
    assert context.free is not None
    best = max(context.free(said), key=lambda match: match.chance)
    odds = odds_of(best, score, said, context)
    expected = Action.SILENT
    if said == PLAN:
        expected = Action.ACT if odds >= bars.told else expected
    elif odds >= bars.asked:
        expected = Action.ASK if best.asks or odds < bars.done else Action.ACT
    found = verdict(heard_as((said, score), lead=led), context)
    heard = score >= LIKELY_TEXT and score * best.chance >= LEAST_CHANCE
    assert found.action is (expected if heard else Action.SILENT)
    if found.action is not Action.SILENT:
        assert found.command == best.command
        assert found.called is (Called.YES if led else Called.NOT)


@given(
    st.sampled_from([SLOWER, PLAN, RIPPED, "the baby is asleep keep your voice down"]),
    st.lists(st.floats(0.0, 1.0), min_size=2, max_size=2),
    st.sampled_from([0, 1]),
)
def test_more_evidence_never_makes_less_of_it(said: str, scores: list[float], others: int) -> None:
    context = context_of(WORKING, attention=in_quiet(others))
    less, more = (verdict(heard_as((said, score)), context) for score in sorted(scores))
    assert RANK.index(less.action) <= RANK.index(more.action)
    again = context_of(WORKING, attention=in_quiet(1))
    alone = verdict(heard_as((said, scores[0])), context_of(WORKING, attention=in_quiet(0)))
    amid = verdict(heard_as((said, scores[0])), again)
    assert RANK.index(amid.action) <= RANK.index(alone.action)


def test_what_is_expected_and_worded_as_makers_do_is_likelier_meant() -> None:
    def odds(weight: float, text: str) -> float:
        return CONSTANTS.log_odds(measures(0.5, 0.5, text, weight))

    assert odds(0.01, SLOWER) < odds(1.0, SLOWER) < odds(3.0, SLOWER)
    words = SLOWER.split()
    assert odds(1.0, " ".join(reversed(words))) < odds(1.0, SLOWER)
    assert odds(1.0, " ".join(["zyx"] * len(words))) < odds(1.0, SLOWER)


CHANCES = st.floats(0.0, 1.0)


@given(CHANCES, CHANCES, CHANCES, CHANCES)
def test_the_odds_rise_with_the_chance_and_fall_with_that_of_being_said_to_others(
    chance: float, other: float, nothing: float, more: float
) -> None:
    low, high = (
        CONSTANTS.log_odds(measures(each, nothing, SLOWER, 1.0)) for each in sorted((chance, other))
    )
    assert low <= high
    high, low = (
        CONSTANTS.log_odds(measures(chance, each, SLOWER, 1.0)) for each in sorted((nothing, more))
    )
    assert low <= high


def test_the_less_a_deed_costs_the_sooner_it_is_done() -> None:
    for bars in (ALONE, AGAIN, CALLED):
        assert bars.asked <= bars.told <= bars.done
    for name in ("asked", "told", "done"):
        called, alone, again = (getattr(bars, name) for bars in (CALLED, ALONE, AGAIN))
        assert called < alone < again


@given(st.floats(0.0, 1.0), st.sampled_from([SLOWER, PLAN, RIPPED]), st.booleans())
def test_what_is_only_likely_answers_no_question_of_the_programs_own(
    score: float, said: str, led: bool
) -> None:
    """Talk after a question is not taken for an answer, nor asked about in its turn."""
    asked = context_of(WORKING, (c.Undo(),), in_quiet(0))
    assert asked.free is not None
    best = max(asked.free(said), key=lambda match: match.chance)
    odds = odds_of(best, score, said, asked)
    found = verdict(heard_as((said, score), lead=led), asked)
    if odds < (CALLED.done if led else 0.0):
        assert found.action is Action.SILENT


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


def test_every_command_that_does_more_than_tell_has_a_question() -> None:
    asked = {*asked_first._QUESTIONS, *asked_first._PLAIN}
    kinds = set(get_args(c.Command))
    telling = {kind for kind in kinds if only_tells(object.__new__(kind))}
    assert telling == {c.Ask, c.Help, c.Explain, c.Fabric}
    assert kinds - telling <= asked


@pytest.mark.parametrize(
    "command",
    [
        *(c.Speak(manner) for manner in c.Manner),
        *(c.Signal(signs) for signs in c.Signs),
        *(c.Wording(brief) for brief in (True, False)),
        *(c.Rests(every_min) for every_min in (0, 1, 30)),
        *(c.RemindAfter(after_s) for after_s in (0, 1, 60)),
        c.Pause(),
        c.Resume(),
        c.Leave(),
    ],
    ids=str,
)
def test_the_question_about_a_manner_is_a_short_sentence(command: c.Command) -> None:
    question = asked_first.question(command, WORKING)
    assert question.endswith("? Yes or no.")
    assert question[0].isupper()
    assert len(question.split()) <= 10
    assert "zero" not in question


def changes_unasked(state: State, said: str) -> bool:
    """Whether words that were written freely change the piece, with nothing asked."""
    found = verdict(heard_as((said, 1.0)), context_of(state, attention=in_quiet(0)))
    if found.action is not Action.ACT or found.command is None or leaves_piece(found.command):
        return False
    if only_asks(state, found.command):
        return False
    return not isinstance(_tried(state, found.command), Refused)


@pytest.mark.parametrize("place", ["R", "M", "A", "S", "B", "F"])
def test_nothing_that_changes_the_piece_is_done_freely(place: str) -> None:
    """Of what makers say there, and said alone by rule: what is written down may be misheard."""
    state = caller_at(place).state
    there = [case.said for case in cases(FOLDER / "looked_at.txt") if case.place == place]
    assert [
        said for said in [*there[:100], "fifty six and a half love"] if changes_unasked(state, said)
    ] == []


def test_what_is_surely_meant_and_makes_no_sense_here_is_told() -> None:
    """Nothing else is taken for it: as loud as it goes, "more loud" is not "more quiet"."""
    state = WORKING
    while not isinstance(loudest := _tried(state, c.Speak(c.Manner.LOUDER)), Refused):
        state = loudest
    found = verdict(evidence("please speak a lot louder for me"), context_of(state))
    assert (found.action, found.command) == (Action.ACT, c.Speak(c.Manner.LOUDER))


def _tried(state: State, command: c.Command) -> State | Refused:
    try:
        return fold(state, decide(state, command))
    except Refused as refused:
        return refused


@given(st.integers(0, MOST_OTHERS), st.sampled_from([RIPPED, PLAN]))
def test_a_question_of_its_own_is_no_sign_that_the_maker_speaks(others: int, said: str) -> None:
    """Else each question into talk would lead to the next."""
    attention = Attention(others_s=(0.0,) * others)
    found = verdict(evidence(said), context_of(WORKING, attention=attention))
    after, _ = attention_after(attention, found, 1.0)
    assert after == (attention if found.action is Action.ASK else replace(attention, others_s=()))


def test_texts_that_mean_the_same_are_likely_together() -> None:
    context = context_of(WORKING)
    scores = (share / 100 for share in range(2, 100))
    least = next(s for s in scores if verdict(heard_as((SLOWER, s)), context).action is Action.ACT)
    texts = ((SLOWER, 0.7 * least), ("can you speak a bit slower please", 0.6 * least))
    found = verdict(heard_as(*texts), context)
    assert (found.action, found.command) == (Action.ACT, c.Speak(c.Manner.SLOWER))
    for text in texts:
        assert verdict(heard_as(text), context).action is not Action.ACT


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
    near = verdict(heard_as((NEAR, 1.0)), context)
    assert (near.action, near.missed) == (Action.SILENT, NEAR)
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


def test_one_word_is_taken_only_where_it_answers_what_is_open_and_few_are_never_done() -> None:
    assert FEWEST_WORDS <= FEW_WORDS
    assert verdict(evidence("slower"), context_of(WORKING)).action is Action.SILENT
    few, more = (verdict(evidence(text), context_of(WORKING)) for text in ("speak slowly", SLOWER))
    assert (few.action, more.action) == (Action.ASK, Action.ACT)
    assert few.command == more.command
    yarn = caller_at("I-yarn").state
    assert verdict(evidence("super chunky"), context_of(yarn)).action is Action.ACT
    assert (
        verdict(evidence("super chunky"), context_of(caller_at("R").state)).action is Action.SILENT
    )


@given(st.sampled_from(["no", "nope", "mm hmm", "lets go", "not yet", "five", "yes it is"]))
def test_a_faint_answer_is_taken_only_in_more_words(text: str) -> None:
    """Puffs of noise are heard as a faint yes or no, and written down in a word or two."""
    doubt = caller_at("Q").state
    assert doubt.doubt is not None
    faint = Evidence(Opinion((Hypothesis("no", 0.8),), "ear"), texts=(Hypothesis(text, 1.0),))
    found = verdict(faint, context_of(doubt))
    few = len(text.split()) < FEW_WORDS
    assert (found.reason is Reason.FAINT_ANSWER) == (found.action is Action.SILENT) == few


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
def call(hearing: Hearing, ours: Renderer, tmp_path: Path) -> Iterator[Call]:
    with Journal.open(tmp_path, "x", CODEC) as journal:
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


def test_what_is_only_likely_is_asked_about(call: Call, voice: Renderer) -> None:
    rate = call.caller.state.speech.rate_wpm
    assert says(call, voice, LIKELY) == ["Speak slower? Yes or no."]
    assert call.caller.state.speech.rate_wpm == rate
    says(call, voice, "yes")
    assert call.caller.state.speech.rate_wpm < rate


@pytest.mark.parametrize("lead", [True, False])
def test_where_the_attention_words_are_needed_they_come_first(
    hearing: Hearing, voice: Renderer, ours: Renderer, tmp_path: Path, lead: bool
) -> None:
    with Journal.open(tmp_path, "x", CODEC) as journal:
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
def test_what_is_not_understood_is_kept_as_typed_words_are(
    ours: Renderer, tmp_path: Path, keeps: bool
) -> None:
    """The real conversation, with a recogniser that hears something near to what was meant."""
    says_ = Says(Opinion((), "ear"), texts=(Hypothesis(NEAR, 1.0),))
    with Journal.open(tmp_path, "x", CODEC) as journal:
        caller = Caller(journal, keeps_unheard=keeps)
        caller.open()
        call = Call(caller, Hearing(says_), ours, BreakingRoom())
        call.room.speak(ours.render("something or other"))
        call.wait(4.0)
    assert [words.said for _, words in kept(tmp_path)] == ([NEAR] if keeps else [])


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


TOLD_AT_ONCE = (
    "a beret for my husband in chunky wool",
    "just a plain hat for me in double knitting",
    "I want to make a beret for myself with aran wool",
)


@pytest.mark.parametrize("text", TOLD_AT_ONCE)
def test_several_answers_in_one_sentence_are_taken_as_where_they_are_typed(text: str) -> None:
    typed, spoken = Caller(Unkept("hat")), Caller(Unkept("hat"))
    for one in (typed, spoken):
        one.open()
    found = verdict(heard_as((text, 1.0)), context_of(spoken.state))
    assert found.action is Action.ACT
    assert found.command is not None
    reply = Spoken(spoken).take(found.command, found.text, freely=True)
    assert reply.say == typed.hear(text).say
    assert spoken.state == typed.state
    assert len(spoken.state.answered) > 1


def test_where_a_number_is_among_them_it_is_left_to_its_own_question() -> None:
    """What it was heard as may be wrong."""
    caller = Caller(Unkept("hat"))
    caller.open()
    text = "a beret for my husband in chunky wool with a six millimetre hook"
    assert c.Change("hook_mm", Amount(6.0, unit=Unit.MM)) in told_at_once(text, caller.state)
    told_ = told_aloud(text, caller.state)
    assert {type(one) for one in told_} == {c.Choose, c.HeadOf}
    assert not any(map(tells_a_number, told_))


def test_several_answers_are_heard_in_one_sentence(
    hearing: Hearing, ours: Renderer, voice: Renderer, tmp_path: Path
) -> None:
    with Journal.open(tmp_path, "x", CODEC) as journal:
        caller = Caller(journal)
        caller.open()
        says(Call(caller, hearing, ours, BreakingRoom()), voice, TOLD_AT_ONCE[0])
        assert {"shape", "head_mm", "yarn"} <= set(caller.state.answered)
        assert caller.state.settings.shape.name == "beret"
