"""What is told to be wrong is what is wrong: real speech, made weak, cut off or laid into noise."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.sound_helpers import pink
from voice.dialogue.trouble import Trouble, clear_db, level_trouble
from voice.sound.endpoint import Endpointer
from voice.sound.ports import RATE_HZ
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer

Sound = NDArray[np.float64]
PHRASES = ("next", "where am i", "across six and a half", "count sixty four")


@pytest.fixture(scope="module")
def voice() -> Iterator[Renderer]:
    with Renderer(Delivery(rate_wpm=150)) as shared:
        yield shared


def _with(noise: Callable[[int], Sound], snr_db: float) -> Callable[[Sound], Sound]:
    def add(sound: Sound) -> Sound:
        loud = sound[np.abs(sound) > 0.02 * np.abs(sound).max()]
        level = float(np.sqrt(np.mean(loud**2))) * 10 ** (-snr_db / 20)
        return np.asarray(sound + level * noise(len(sound)))

    return add


def _white(length: int) -> Sound:
    return np.random.default_rng(5).normal(0.0, 1.0, length)


def _pink(length: int) -> Sound:
    return pink(length, 1.0)


MADE: dict[str, tuple[Callable[[Sound], Sound], Trouble | None]] = {
    "clear": (lambda sound: sound, None),
    "soft, and clear": (lambda sound: 0.05 * sound, None),
    "weak": (lambda sound: 0.02 * sound, Trouble.TOO_QUIET),
    "cut off": (lambda sound: 8.0 * sound, Trouble.CLIPPING),
    "in white noise": (_with(_white, 10.0), Trouble.NOISE),
    "in pink noise": (_with(_pink, 8.0), Trouble.NOISE),
    "in a little noise": (_with(_pink, 30.0), None),
}


@pytest.mark.parametrize("how", MADE)
@pytest.mark.parametrize("phrase", PHRASES)
def test_what_is_wrong_is_told(voice: Renderer, phrase: str, how: str) -> None:
    change, trouble = MADE[how]
    sound = np.pad(voice.render(phrase).astype(np.float64), (2 * RATE_HZ, RATE_HZ))
    hiss = np.random.default_rng(6).normal(0.0, 3.0, len(sound))
    samples = np.clip(change(sound) + hiss, -32768, 32767).astype(np.int16)
    detector = Endpointer()
    segments = [*detector.feed(samples), *detector.finish()]
    heard = max(segments, key=lambda segment: len(segment.samples), default=None)
    assert heard is not None, "loud enough to be an utterance"
    assert level_trouble(heard.samples) is trouble, clear_db(heard.samples)


def test_each_trouble_has_its_own_short_words_that_say_what_to_do() -> None:
    assert len({trouble.value for trouble in Trouble}) == len(Trouble)
    for trouble in Trouble:
        assert len(trouble.value) <= 100
        assert not trouble.value.lower().startswith("sorry")


@pytest.mark.parametrize("length", [0, 1, 700, 801])
def test_a_sound_too_short_to_judge_is_not_clear(length: int) -> None:
    assert clear_db(np.full(length, 900, np.int16)) == 0.0
