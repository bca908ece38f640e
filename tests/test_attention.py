"""Addressed mode: it comes and goes with the talk in the room, and only addressed words count."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.properties import together
from tests.sound_helpers import Says
from voice.cli import app
from voice.cli.ready import warm_up
from voice.dialogue.moves import TellAttention
from voice.dialogue.turn_state import Manners, Turns
from voice.dialogue.turns import heard, ticked
from voice.hearing import attention as a
from voice.hearing.attention import Attention, Switch, When
from voice.hearing.evidence import Action, Context, Evidence
from voice.hearing.expectation import CLEAR
from voice.hearing.listening import Hearing
from voice.hearing.verdict import verdict
from voice.recognisers.net.word_graph import word_graph
from voice.recognisers.recogniser import Hypothesis, Opinion
from voice.sentences.hearing import attention as told
from voice.sound.ports import RATE_HZ, Samples
from voice.speech.speaker import Renderer
from voice.words.attention_words import CHOICES
from voice.words.phrases import Group, read

SILENT = verdict(Evidence(Opinion((), "test")), Context())
NEXT = verdict(Evidence(Opinion((Hypothesis("next", 1.0),), "test")), Context())


def _after_talk(attention: Attention, times: list[float]) -> tuple[Attention, list[Switch]]:
    switches = []
    for at in times:
        attention, switch = a.other_talk(attention, at)
        switches += [switch] if switch else []
    return attention, switches


def test_a_talking_room_switches_it_on_once_and_quiet_off_once() -> None:
    attention, switches = _after_talk(Attention(), [float(n) for n in range(30)])
    assert switches == [Switch.ON]
    assert attention.needed
    assert a.waited(attention, 29.0 + a.QUIET_AFTER_S - 1)[1] is None
    attention, switch = a.waited(attention, 29.0 + a.QUIET_AFTER_S)
    assert switch is Switch.OFF
    assert not attention.needed
    assert a.waited(attention, 1e6)[1] is None


@given(st.lists(st.floats(0, 1e4), max_size=40).map(sorted))
def test_always_and_never_do_not_switch(times: list[float]) -> None:
    for when in (When.ALWAYS, When.NEVER):
        attention, switches = _after_talk(Attention(when=when), times)
        assert not switches
        assert attention.needed is (when is When.ALWAYS)


@given(st.lists(st.floats(0, 1e4), max_size=60).map(sorted))
def test_talk_now_and_then_does_not_switch(times: list[float]) -> None:
    thinned = times[::1] if len(times) < a.TALKS_AT else [n * a.TALK_WINDOW_S for n in range(50)]
    assert not _after_talk(Attention(), thinned)[1]


def test_phrases_in_between_are_the_maker_not_the_room() -> None:
    turns, now = Turns(), 0.0
    for _ in range(20):
        for what in (SILENT, SILENT, NEXT):
            now += 1.0
            turns, out = heard(turns, what, Manners(), now)
            assert not any(isinstance(each, TellAttention) for each in out)


def test_the_turns_say_when_it_is_needed_and_no_sign_is_given_then() -> None:
    turns, said = Turns(), []
    for n in range(12):
        turns, out = heard(turns, SILENT, Manners(), float(n))
        said += list(out)
    assert said == [TellAttention(Switch.ON)]
    turns, out = ticked(turns, Manners(), 12.0 + a.QUIET_AFTER_S, wanted=False)
    assert out == (TellAttention(Switch.OFF),)


def _opinion(**scores: float) -> Opinion:
    found = (Hypothesis(words.replace("_", " "), score) for words, score in scores.items())
    return Opinion(tuple(found), "ear")


@pytest.mark.parametrize(("words", "when"), together(CHOICES, [When.ALWAYS, When.NEVER]))
def test_what_may_be_said_with_the_words_and_without(words: str, when: When) -> None:
    attention = Attention(words, when)
    graph = word_graph(a.grammar_with(attention, frozenset(Group)))
    for phrase in ("next", "across six and a half", "count one hundred and thirty"):
        assert graph.accepts(f"{words} {phrase}")
        assert graph.accepts(phrase) is not attention.needed
    assert graph.accepts(words)
    assert not graph.accepts(f"{words} {words}")
    assert not graph.accepts("")
    assert a.weakness(words) is None
    assert words in told(Switch.ON, words)
    assert words in told(Switch.OFF, words)


@pytest.mark.parametrize("when", [When.ALWAYS, When.NEVER])
def test_only_what_follows_the_words_counts_while_they_are_needed(when: When) -> None:
    attention = Attention(when=when)
    lead = attention.words
    opinion = _opinion(**{f"{lead} next": 0.3, "next": 0.2, "undo": 0.1})
    scores = {found.words: found.score for found in a.meant(opinion, attention).hypotheses}
    if attention.needed:
        assert scores == {"next": pytest.approx(0.3 / (0.3 + 0.7 / a.MEANT))}
    else:
        assert scores == {"next": pytest.approx(0.5), "undo": pytest.approx(0.1)}


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_the_words_count_as_heard_whatever_follows(alone: float, led: float) -> None:
    attention, scale = Attention(), max(1.0, alone + led)
    alone, led = alone / scale, led / scale
    words = sorted(
        [(attention.words, alone), (f"{attention.words} next", led)], key=lambda one: -one[1]
    )
    called = a.called_by(_opinion(**dict(words), undo=1.0 - alone - led), attention)
    assert (called is a.Called.NOT) is (alone + led < a.CALLED_FROM)
    assert (called is a.Called.YES) <= (led >= alone)
    assert (called is a.Called.ONLY) <= (alone >= led)


@pytest.mark.parametrize(
    "words",
    [
        "yarn",
        "hey you",
        "next basket today",
        "dear basket!",
        "",
        "seventy seven",
        "seventy basket",
        "keep it basket",
    ],
)
def test_a_poor_choice_is_told(words: str) -> None:
    assert a.weakness(words)


@pytest.mark.parametrize("words", ["", "!!!", "корзина"])
def test_what_holds_no_words_is_refused(
    words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit, match="2"):
        app.main(["call", "--folder", str(tmp_path), "--attention", words])
    assert CHOICES[0] in capsys.readouterr().err.splitlines()[-1]
    assert not [*tmp_path.iterdir()]


@given(st.floats(0.5, 1.0), st.booleans())
def test_what_follows_the_words_need_not_be_as_clear_amid_talk(score: float, led: bool) -> None:
    attention = Attention(when=When.NEVER)
    said = f"{attention.words} where am i" if led else "where am i"
    hearing = Hearing(Says(Opinion((Hypothesis(said, score),), "ear")))
    what = hearing.decide(np.ones(1, np.int16), lambda _: 10.0, attention=attention, wary=True)
    assert (what.action is Action.ACT) is (score >= (a.CLEAR_AFTER_CALL if led else CLEAR))


@given(st.floats(a.CALLED_FROM, 1.0), st.booleans())
def test_while_they_are_needed_what_follows_them_is_done(score: float, talk: bool) -> None:
    attention = Attention(when=When.ALWAYS)
    opinion = Opinion((Hypothesis(f"{attention.words} where am i", score),), "ear")
    what = Hearing(Says(opinion)).decide(np.ones(1, np.int16), attention=attention, wary=talk)
    assert what.action is Action.ACT


def test_words_that_no_engine_can_say_are_refused_before_the_call(hearing: Hearing) -> None:
    warm_up(hearing, Attention())
    with pytest.raises(a.AttentionUnheard, match=rf"größe.*{CHOICES[0]}") as refused:
        warm_up(hearing, Attention("hey größe"))
    assert str(refused.value).count("\n") == 0


@given(st.lists(st.floats(0.0, 1.0), max_size=5).map(lambda s: [x / max(1.0, sum(s)) for x in s]))
def test_the_words_make_all_phrases_likelier_and_change_no_order(scores: list[float]) -> None:
    attention, scores = Attention(when=When.ALWAYS), sorted(scores, reverse=True)
    found = tuple(Hypothesis(f"{CHOICES[0]} {n}", score) for n, score in enumerate(scores))
    after = a.meant(Opinion(found, "ear"), attention).hypotheses
    assert sum(h.score for h in after) <= 1.0 + 1e-9
    for before, now in zip(found, after, strict=True):
        assert now.score >= before.score - 1e-12
        for other, its in zip(found, after, strict=True):
            assert now.score * other.score == pytest.approx(its.score * before.score)


def test_real_engines_hear_what_follows_the_words_and_else_what_is_not_for_others(
    hearing: Hearing, ours: Renderer
) -> None:
    must, may = Attention(when=When.ALWAYS), Attention(when=When.NEVER)
    lead = must.words

    def said(text: str) -> Samples:  # with the pause after it, as the endpoint leaves it
        return np.pad(ours.render(text), (0, RATE_HZ // 4))

    for text in ("where am I", "next"):
        for attention in (must, may):
            led = hearing.decide(said(f"{lead}, {text}"), attention=attention)
            assert (led.action, led.command) == (Action.ACT, read(text.lower()))
            assert (led.text, led.called) == (text.lower(), a.Called.YES)
        bare = hearing.decide(said(text), attention=must)
        assert (bare.action, bare.called) == (Action.SILENT, a.Called.NOT)
        bare = hearing.decide(said(text), attention=may)
        assert (bare.text, bare.called) == (text.lower(), a.Called.NOT)
    for attention in (must, may):
        alone = hearing.decide(said(f"{lead}."), attention=attention)
        assert (alone.action, alone.called) == (Action.SILENT, a.Called.ONLY)
