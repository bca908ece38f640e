"""Addressed mode: it comes and goes with the talk in the room, and only addressed words count."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern import commands as c
from voice import app
from voice import attention as a
from voice.attention import CHOICES, Attention, Switch, When
from voice.delivery import Delivery
from voice.grammar import Sequence, sentences
from voice.hearing import Action, Heard, Hearing
from voice.moves import TellAttention
from voice.phrases import Group, grammar_of, read
from voice.ports_hearing import Hypothesis, Opinion
from voice.recognisers.chosen import PLAIN, open_recogniser
from voice.sentences.hearing import attention as told
from voice.speaker import Renderer
from voice.turn_state import Manners, Turns
from voice.turns import heard, ticked
from voice.voice_call import heed

SILENT = Heard("", None, Action.SILENT, 0.0, (), "test", 0.0)
NEXT = Heard("next", c.Next(), Action.ACT, 1.0, (), "test", 0.0)


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


@pytest.mark.parametrize("words", CHOICES)
def test_only_what_follows_the_words_counts(words: str) -> None:
    reader = a.addressed_reader(words, read)
    assert reader("next") is None
    assert reader(words) is None
    assert reader(f"{words} next") == c.Next()
    assert reader(f"{words} across six and a half") == read("across six and a half")
    *led, alone = a.addressed_grammar(words, frozenset(Group)).phrases
    assert len(led) == len(grammar_of(frozenset(Group)).phrases)
    assert all(isinstance(phrase, Sequence) for phrase in led)
    assert [" ".join(said) for said in sentences(alone, {})] == [words]
    assert a.weakness(words) is None
    assert words in told(Switch.ON, words)
    assert words in told(Switch.OFF, words)


@pytest.mark.parametrize("words", ["yarn", "hey you", "next basket today", "dear basket!", ""])
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


def test_words_that_no_engine_can_say_are_refused_before_the_call() -> None:
    hearing = Hearing(open_recogniser())
    heed(hearing, CHOICES[0])
    with pytest.raises(a.AttentionUnheard, match=rf"amigurumi.*{CHOICES[0]}") as refused:
        heed(hearing, "hey amigurumi")
    hearing.close()
    assert str(refused.value).count("\n") == 0


@given(st.lists(st.floats(0.0, 1.0), max_size=5).map(lambda s: [x / max(1.0, sum(s)) for x in s]))
def test_the_words_make_all_phrases_likelier_and_change_no_order(scores: list[float]) -> None:
    found = tuple(Hypothesis(str(n), score) for n, score in enumerate(scores))
    after = a.addressed_opinion(Opinion(found, "ear", 0.0)).hypotheses
    assert sum(h.score for h in after) <= 1.0 + 1e-9
    for before, now in zip(found, after, strict=True):
        assert now.score >= before.score - 1e-12
        for other, its in zip(found, after, strict=True):
            assert now.score * other.score == pytest.approx(its.score * before.score)


def test_real_engines_hear_what_follows_the_words_and_nothing_else() -> None:
    lead = CHOICES[0]
    texts = ("where am I", "next")
    hearing = Hearing(open_recogniser(PLAIN))
    try:
        with Renderer(Delivery()) as renderer:
            for text in texts:
                led = hearing.decide(renderer.render(f"{lead}, {text}"), attention=lead)
                assert (led.action, led.command) == (Action.ACT, read(text.lower()))
                bare = hearing.decide(renderer.render(text), attention=lead)
                assert bare.action is Action.SILENT
            alone = hearing.decide(renderer.render(f"{lead}."), attention=lead)
            assert (alone.action, alone.alternatives[0].words) == (Action.SILENT, lead)
    finally:
        hearing.close()
