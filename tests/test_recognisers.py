"""What every recogniser promises, on sound that eSpeak NG's voices render.

The sound is real synthetic speech; that an engine understands these phrases in these voices is a
property of engine and voice, no outside standard.
"""

from __future__ import annotations

import functools
from collections.abc import Iterator
from difflib import SequenceMatcher
from itertools import groupby
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sound_helpers import noise, pink
from voice.hearing.expectation import Silent, choose
from voice.models.model_list import find, listed
from voice.models.models import verify
from voice.recognisers.agreement import Agreement, Look
from voice.recognisers.chosen import IN_TWO_WAYS, NAMES, NET, open_recogniser
from voice.recognisers.engine import BadGrammar, EngineMissing, hissed
from voice.recognisers.net.letters import Letters
from voice.recognisers.net.moonshine import Moonshine
from voice.recognisers.net.moonshine_net import LETTERS, Hears, Sounds, session
from voice.recognisers.recogniser import Recogniser
from voice.sound.ports import RATE_HZ, Samples
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer
from voice.words.grammar import Grammar, parse
from voice.words.phrases import Group, grammar_of, read

ENGINES = (*((name,) for name in NET), NET)
"""But the one that needs a model of the maker's own: see `test_vosk`."""
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
    return _opened(request.param)


def around(sound: Samples) -> Samples:
    quiet = (noise(0.3, 3.0) // 1).astype(np.int16)
    return np.concatenate([quiet, sound, quiet])


@pytest.mark.parametrize("words", PHRASES)
def test_a_spoken_phrase_is_heard(recogniser: Recogniser, renderer: Renderer, words: str) -> None:
    opinion = recogniser.hear(around(renderer.render(words)), WORK)
    assert opinion.hypotheses, words
    assert read(opinion.hypotheses[0].words) == read(words)


@pytest.mark.parametrize("words", ["measured five inches", "sixteen centimetres across"])
def test_together_they_hear_readings(renderer: Renderer, words: str) -> None:
    opinion = _opened(NET).hear(around(renderer.render(words)), WORK)
    assert read(opinion.hypotheses[0].words) == read(words)


def test_where_the_sound_is_cut_does_not_matter(recogniser: Recogniser, renderer: Renderer) -> None:
    """With a tail of the room, as a late detector of the end would leave it."""
    sound = around(renderer.render(PHRASES[2]))
    whole = recogniser.hear(sound, WORK)
    tail = (noise(0.7, 3.0, seed=5) // 1).astype(np.int16)
    late = recogniser.hear(np.concatenate([sound, tail]), WORK)
    assert read(late.hypotheses[0].words) == read(whole.hypotheses[0].words)


def test_nothing_is_kept_from_one_utterance_to_the_next(
    recogniser: Recogniser, renderer: Renderer
) -> None:
    first, second = (around(renderer.render(words)) for words in PHRASES[:2])
    fresh = [recogniser.hear(sound, WORK) for sound in (first, second)]
    assert [recogniser.hear(sound, WORK) for sound in (second, first, first)] == [
        fresh[1],
        fresh[0],
        fresh[0],
    ]


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
    zeros = np.zeros(RATE_HZ // 3, np.int16)
    sound = renderer.render(words)
    faint = (sound * (800 / np.abs(sound.astype(np.int32)).max())).astype(np.int16)
    opinion = _opened(NET).hear(np.concatenate([zeros, faint, zeros]), WORK)
    assert read(opinion.hypotheses[0].words) == read(words)


def test_scores_are_probabilities_of_alternatives(
    recogniser: Recogniser, renderer: Renderer
) -> None:
    """In a hiss that drowns what tells sixteen from sixty there are several."""
    sound, many = around(renderer.render("across sixteen")), set[int]()
    for level in (1.0, 300.0, 1000.0, 3000.0):
        mixed = sound + pink(len(sound), level).astype(np.int16)
        found = recogniser.hear(mixed, WORK).hypotheses
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
    assert choose(recogniser.hear(sound, WORK)) == Silent()


def test_the_grammar_changes_between_utterances(recogniser: Recogniser, renderer: Renderer) -> None:
    sound = around(renderer.render("yes please"))
    assert recogniser.hear(sound, CONFIRM).hypotheses[0].words == "yes please"
    assert all(h.words != "yes please" for h in recogniser.hear(sound, WORK).hypotheses)


def test_an_empty_grammar_is_refused(recogniser: Recogniser) -> None:
    with pytest.raises(BadGrammar):
        recogniser.hear(noise(1.0), Grammar((), {}))


@pytest.mark.parametrize("names", [("ear",), ("moonshine", "ear")])
def test_an_unknown_choice_of_engines_says_what_there_is(names: tuple[str, ...]) -> None:
    with pytest.raises(EngineMissing) as caught:
        open_recogniser(names)
    assert all(name in str(caught.value) for name in NAMES)


@pytest.mark.parametrize("name", NET)
def test_a_net_that_spells_can_spell_any_word_of_its_letters(name: str) -> None:
    recogniser = _opened((name,))
    recogniser.hear(noise(0.5), Grammar((parse("next zzyqx"),), {}))
    with pytest.raises(BadGrammar) as caught:
        recogniser.hear(noise(0.5), Grammar((parse("next \ua66en"),), {}))
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


def test_what_two_looks_share_listens_once(renderer: Renderer) -> None:
    hears, sound = Counting(), around(renderer.render("where am i"))
    both = Agreement((Moonshine(hears), Letters(hears)), IN_TWO_WAYS)
    for times in (1, 2):
        assert both.hear(sound, WORK).hypotheses[0].words == "where am i"
        assert hears.times == times


def test_letters_are_told_as_they_are_said(renderer: Renderer) -> None:
    """The likeliest of each moment, each but once, without those that are none."""
    told = Hears().hear(around(renderer.render("listen basket"))).letters
    assert np.exp(told).sum(axis=1) == pytest.approx(np.ones(len(told)), abs=1e-3)
    best = [number for number, _ in groupby(told.argmax(axis=1)) if number]
    spelled = "".join(LETTERS[number - 1] for number in best)
    assert SequenceMatcher(None, spelled, "listen basket").ratio() > 0.8


@pytest.mark.parametrize("look", [Moonshine, Letters])
def test_a_phrase_fits_as_well_alone_as_among_all(look: type[Look], renderer: Renderer) -> None:
    sound, one = around(renderer.render("stop listening")), look()
    among = one.decode(sound, WORK).gaps["stop listening"]
    alone = one.judge(["stop listening", "where am i"])["stop listening"]
    assert alone == pytest.approx(among, abs=abs(among) * 0.05 + 0.5)
