"""What every recogniser promises, on sound that eSpeak NG's voices render.

The sound is real synthetic speech; that an engine understands these phrases in these voices is a
property of engine and voice, no outside standard.
"""

from __future__ import annotations

import functools
from collections.abc import Iterator
from difflib import SequenceMatcher
from functools import partial
from itertools import groupby
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sound_helpers import noise, pink
from voice.delivery import Delivery
from voice.expectation import Silent, choose
from voice.grammar import Grammar, parse
from voice.model_errors import ModelMissing
from voice.model_list import find, listed
from voice.models import verify
from voice.phrases import Group, grammar_of, read
from voice.ports import RATE_HZ, Samples
from voice.ports_hearing import Opinion, Recogniser
from voice.recognisers.agreement import Agreement
from voice.recognisers.chosen import FEWER, IN_TWO_WAYS, NAMES, PLAIN, open_recogniser, plain
from voice.recognisers.ctc import Ctc
from voice.recognisers.engine import (
    BadGrammar,
    EngineMissing,
    NoGrammar,
    UtteranceOpen,
    hissed,
)
from voice.recognisers.letters import Letters
from voice.recognisers.moonshine import Moonshine
from voice.recognisers.moonshine_net import LETTERS, Hears, Sounds, session
from voice.recognisers.sphinx import Sphinx
from voice.speaker import Renderer

ENGINES = (*((name,) for name in NAMES if name != "vosk"), FEWER, PLAIN)
"""But the one that streams: see `test_vosk`."""
ALWAYS_THERE = [names for names in ENGINES if set(names) <= {*plain(), *FEWER}]
WORK = grammar_of(frozenset({Group.WORK, Group.READING, Group.ANSWER}))
CONFIRM = grammar_of(frozenset({Group.CONFIRM}))
VOICE = "gmw/en-us"
PHRASES = ("where am i", "how many stitches", "stop listening", "carry on")


@pytest.fixture(scope="module")
def renderer() -> Iterator[Renderer]:
    with Renderer(Delivery(voice=VOICE)) as made:
        yield made


@functools.cache
def _opened(names: tuple[str, ...]) -> Recogniser:
    return open_recogniser(names)


@pytest.fixture(params=ENGINES, ids="+".join)
def recogniser(request: pytest.FixtureRequest) -> Recogniser:
    try:
        return _opened(request.param)
    except (EngineMissing, ModelMissing) as missing:
        if request.param in ALWAYS_THERE:
            raise
        pytest.skip(str(missing))


def around(sound: Samples) -> Samples:
    quiet = (noise(0.3, 3.0) // 1).astype(np.int16)
    return np.concatenate([quiet, sound, quiet])


def hear(recogniser: Recogniser, sound: Samples, size: int | None = None) -> Opinion:
    for start in range(0, len(sound), size or len(sound)):
        recogniser.feed(sound[start : start + (size or len(sound))])
    return recogniser.finish()


@pytest.mark.parametrize("words", PHRASES)
def test_a_spoken_phrase_is_heard(recogniser: Recogniser, renderer: Renderer, words: str) -> None:
    recogniser.set_grammar(WORK)
    opinion = hear(recogniser, around(renderer.render(words)))
    assert opinion.hypotheses, words
    assert read(opinion.hypotheses[0].words) == read(words)


@pytest.mark.parametrize("words", ["measured five inches", "sixteen centimetres across"])
def test_together_they_hear_readings(renderer: Renderer, words: str) -> None:
    both = _opened(plain())
    both.set_grammar(WORK)
    opinion = hear(both, around(renderer.render(words)))
    assert read(opinion.hypotheses[0].words) == read(words)


def test_how_the_sound_is_cut_does_not_matter(recogniser: Recogniser, renderer: Renderer) -> None:
    recogniser.set_grammar(WORK)
    sound = around(renderer.render(PHRASES[2]))
    whole = hear(recogniser, sound)
    for size in (160, 1237):
        assert hear(recogniser, sound, size).hypotheses == whole.hypotheses
    # With a tail of the room, as a late detector of the end would leave it.
    tail = (noise(0.7, 3.0, seed=5) // 1).astype(np.int16)
    late = hear(recogniser, np.concatenate([sound, tail]))
    assert read(late.hypotheses[0].words) == read(whole.hypotheses[0].words)


@given(loudest=st.integers(1, 32767), seed=st.integers(0, 99))
def test_hiss_lies_far_below_the_sound_and_is_always_the_same(loudest: int, seed: int) -> None:
    sound = np.random.default_rng(seed).integers(-loudest, loudest + 1, 4000).astype(np.int16)
    added = hissed(sound).astype(np.int32) - sound
    assert hissed(sound).dtype == np.int16
    assert np.abs(added).max() <= loudest / 25 + 1
    assert (hissed(sound) == hissed(sound)).all()
    assert not hissed(np.zeros(4000, np.int16)).any()


@pytest.mark.parametrize("words", PHRASES)
def test_a_faint_phrase_between_exact_zeros_is_heard(renderer: Renderer, words: str) -> None:
    both = _opened(plain())
    both.set_grammar(WORK)
    zeros = np.zeros(RATE_HZ // 3, np.int16)
    sound = renderer.render(words)
    faint = (sound * (800 / np.abs(sound.astype(np.int32)).max())).astype(np.int16)
    opinion = hear(both, np.concatenate([zeros, faint, zeros]))
    assert read(opinion.hypotheses[0].words) == read(words)


def test_scores_are_probabilities_of_alternatives(
    recogniser: Recogniser, renderer: Renderer
) -> None:
    """In a hiss that drowns what tells sixteen from sixty there are several."""
    recogniser.set_grammar(WORK)
    sound, many = around(renderer.render("across sixteen")), set[int]()
    for level in (1.0, 300.0, 1000.0, 3000.0):
        found = hear(recogniser, sound + pink(len(sound), level).astype(np.int16)).hypotheses
        scores = [hypothesis.score for hypothesis in found]
        assert scores == sorted(scores, reverse=True)
        assert 0 <= sum(scores) <= 1 + 1e-9
        assert len({hypothesis.words for hypothesis in found}) == len(found)
        many.add(len(found))
    assert max(many) >= 2


@pytest.mark.parametrize(
    "sound",
    [
        np.zeros(0, np.int16),
        np.zeros(RATE_HZ, np.int16),
        noise(0.05),
        (noise(1.0, 3.0) // 1).astype(np.int16),
        pink(RATE_HZ, 2000.0).astype(np.int16),
        noise(13.0),
    ],
    ids=["nothing", "zeros", "click", "room", "pink noise", "too long"],
)
def test_no_phrase_is_found_in_no_speech(recogniser: Recogniser, sound: Samples) -> None:
    recogniser.set_grammar(WORK)
    recogniser.feed(sound)
    assert choose(recogniser.finish()) == Silent()


def test_the_grammar_changes_between_utterances(recogniser: Recogniser, renderer: Renderer) -> None:
    sound = around(renderer.render("yes please"))
    recogniser.set_grammar(CONFIRM)
    assert hear(recogniser, sound).hypotheses[0].words == "yes please"
    recogniser.set_grammar(WORK)
    assert all(h.words != "yes please" for h in hear(recogniser, sound).hypotheses)
    recogniser.feed(sound)
    with pytest.raises(UtteranceOpen):
        recogniser.set_grammar(CONFIRM)
    recogniser.finish()


def test_an_empty_grammar_is_refused(recogniser: Recogniser) -> None:
    with pytest.raises(BadGrammar):
        recogniser.set_grammar(Grammar((), {}))


@pytest.mark.parametrize(
    "names", [n for n in ALWAYS_THERE if not set(n) <= set(PLAIN)], ids="+".join
)
def test_words_nobody_can_pronounce_are_named(names: tuple[str, ...]) -> None:
    with pytest.raises(BadGrammar) as caught:
        _opened(names).set_grammar(Grammar((parse("next zzyqx"),), {}))
    assert caught.value.words == ("zzyqx",)


@pytest.mark.parametrize("names", ALWAYS_THERE, ids="+".join)
def test_sound_before_a_grammar_is_an_error(names: tuple[str, ...]) -> None:
    fresh = open_recogniser(names)
    with pytest.raises(NoGrammar):
        fresh.feed(noise(0.2))
    with pytest.raises(NoGrammar):
        fresh.finish()
    fresh.close()


@pytest.mark.parametrize("names", [("ear",), ("sphinx", "vosk")])
def test_an_unknown_choice_of_engines_says_what_there_is(names: tuple[str, ...]) -> None:
    with pytest.raises(EngineMissing) as caught:
        open_recogniser(names)
    assert all(name in str(caught.value) for name in NAMES)


@pytest.mark.parametrize("name", PLAIN)
def test_a_net_that_spells_can_spell_any_word_of_its_letters(name: str) -> None:
    recogniser = _opened((name,))
    recogniser.set_grammar(Grammar((parse("next zzyqx"),), {}))
    with pytest.raises(BadGrammar) as caught:
        recogniser.set_grammar(Grammar((parse("next \ua66en"),), {}))
    assert caught.value.words == ("\ua66en",)


@pytest.mark.parametrize("name", [m.name for m in listed() if m.engine == "moonshine"])
def test_weights_that_are_cut_short_are_refused(tmp_path: Path, name: str) -> None:
    file = find(name).file
    data, cut = (verify(name) / file).read_bytes(), tmp_path / file
    cut.write_bytes(data[: len(data) // 2])
    with pytest.raises(EngineMissing, match=f"{cut.stem}.* cannot be read"):
        session(cut)


class Counting(Hears):
    """The half that hears, and how often it listened."""

    times = 0

    def _heard(self, samples: Samples) -> Sounds:
        self.times += 1
        return super()._heard(samples)


def test_what_two_engines_share_listens_once_whether_by_turns_or_not(renderer: Renderer) -> None:
    hears, sound = Counting(), around(renderer.render("where am i"))
    opinions = []
    for by_turns in (False, True):
        makers = (partial(Moonshine, hears), partial(Letters, hears))
        both = Agreement(makers, IN_TWO_WAYS, by_turns=by_turns)
        both.set_grammar(WORK)
        before = hears.times
        for times in (1, 2):
            opinions.append(hear(both, sound).hypotheses)
            assert hears.times == before + times
        both.close()
    assert opinions[0][0].words == "where am i"
    assert all(opinion == opinions[0] for opinion in opinions)


def test_letters_are_told_as_they_are_said(renderer: Renderer) -> None:
    """The likeliest of each moment, each but once, without those that are none."""
    told = Hears().hear(around(renderer.render("listen basket"))).letters
    assert np.exp(told).sum(axis=1) == pytest.approx(np.ones(len(told)), abs=1e-3)
    best = [number for number, _ in groupby(told.argmax(axis=1)) if number]
    spelled = "".join(LETTERS[number - 1] for number in best)
    assert SequenceMatcher(None, spelled, "listen basket").ratio() > 0.8


@pytest.mark.parametrize("engine", [Sphinx, Moonshine, Letters, Ctc])
def test_a_phrase_fits_as_well_alone_as_among_all(
    engine: type[Sphinx | Moonshine | Letters | Ctc], renderer: Renderer
) -> None:
    sound, one = around(renderer.render("stop listening")), engine()
    one.set_grammar(WORK)
    among = one.decode(sound).gaps["stop listening"]
    alone = one.judge(["stop listening", "where am i"])["stop listening"]
    assert alone == pytest.approx(among, abs=abs(among) * 0.05 + 0.5)
