"""Real text-to-speech: what it says, how fast, in which voice, and that it prints nothing."""

import queue
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from voice.sound.ports import RATE_HZ, Samples
from voice.speech.clauses import SENTENCE_S
from voice.speech.delivery import Delivery, DeliveryRefusedError
from voice.speech.played_speaker import PlayedSpeaker
from voice.speech.speaker import KEPT_RENDERS, Renderer

SENTENCE = "Round seven. Two single crochet in each of the next six stitches."


@pytest.fixture(scope="module")
def renderer() -> Iterator[Renderer]:
    with Renderer() as shared:
        yield shared


@pytest.fixture
def own() -> Iterator[Renderer]:
    with Renderer(limit_s=1.5) as renderer:
        yield renderer


def test_a_sentence_becomes_sound_that_lasts_as_long_as_its_words(renderer: Renderer) -> None:
    """Words a minute is what the rate means; a third off is the engine's liberty."""
    renderer.change(Delivery(rate_wpm=160))
    sound = renderer.render(" ".join([SENTENCE] * 5))
    assert sound.dtype == np.int16
    assert sound.ndim == 1
    assert np.max(np.abs(sound.astype(int))) > 3000
    wanted_s = 60 * 5 * len(SENTENCE.split()) / 160
    assert len(sound) / RATE_HZ == pytest.approx(wanted_s, rel=0.34)


def test_silence_is_trimmed(renderer: Renderer) -> None:
    loud = np.flatnonzero(np.abs(renderer.render("six").astype(int)) > 60)
    assert loud[0] < 0.05 * RATE_HZ
    assert len(renderer.render("six")) - loud[-1] < 0.25 * RATE_HZ


@pytest.mark.parametrize("text", ["", "  \n", "..."])
def test_nothing_to_say_is_no_sound(renderer: Renderer, text: str) -> None:
    assert len(renderer.render(text)) == 0


def test_rate_and_volume(renderer: Renderer) -> None:
    lengths, peaks = [], []
    for rate_wpm in (120, 160, 220):
        renderer.change(Delivery(rate_wpm=rate_wpm))
        lengths.append(len(renderer.render(SENTENCE)))
    for volume in (0.2, 1.0):
        renderer.change(Delivery(volume=volume))
        peaks.append(np.max(np.abs(renderer.render("six").astype(int))))
    assert lengths[0] > 1.2 * lengths[1] > 1.4 * lengths[2]
    assert peaks[1] > 2 * peaks[0]


def test_no_change_of_rate_is_lost(renderer: Renderer) -> None:
    """The engine takes properties in a thread of its own: each must hold for the very next text."""
    slow, fast = [], []
    for turn in range(20):
        renderer.change(Delivery(rate_wpm=120))
        slow.append(len(renderer.render("increase" + "," * turn)))
        renderer.change(Delivery(rate_wpm=220))
        fast.append(len(renderer.render("increase" + "," * turn)))
    assert min(slow) > 1.3 * max(fast)


def envelope(sound: Samples) -> NDArray[np.float64]:
    """Loudness in pieces of 10 ms over the first second, with unit length."""
    first = np.resize(np.append(sound, np.zeros(RATE_HZ, np.int16)), RATE_HZ).astype(np.float64)
    loudness = np.sqrt(np.mean(first.reshape(100, -1) ** 2, axis=1))
    return np.asarray(loudness / np.linalg.norm(loudness))


def test_each_text_is_its_own_sound_also_from_threads(renderer: Renderer) -> None:
    """The engine is not exact to the sample, but nearer to itself than to any other word."""
    renderer.change(Delivery())
    texts = ["two", "forty", "eleven", "sixty six", "undo", "brim", "seventeen", "increase"]
    found: queue.Queue[tuple[str, Samples]] = queue.Queue()

    def render(text: str) -> None:
        found.put((text, renderer.render(text)))

    threads = [threading.Thread(target=render, args=(text,)) for text in texts]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    together = dict(found.get_nowait() for _ in texts)
    with Renderer() as alone:
        single = {text: alone.render(text) for text in texts}
    for text in texts:
        alike = {t: float(envelope(together[text]) @ envelope(single[t])) for t in texts}
        assert max(alike, key=lambda t: alike[t]) == text
        assert alike[text] > 0.98
        assert len(together[text]) == pytest.approx(len(single[text]), rel=0.02)


def test_a_voice_can_be_chosen(own: Renderer) -> None:
    english = [voice for voice in own.voices() if voice.language.lower().startswith("en")]
    assert len(english) >= 2
    sounds = set()
    for voice in english[:3]:
        own.change(Delivery(voice=voice.id))
        sounds.add(own.render(SENTENCE).tobytes())
    assert len(sounds) == len(english[:3])


def test_no_voice_named_is_the_usual_one_also_after_another(own: Renderer) -> None:
    usual = own.render(SENTENCE)
    own.change(Delivery(voice="gmw/en-us"))
    other = own.render(SENTENCE)
    own.change(Delivery(rate_wpm=161))  # a delivery that was not rendered yet
    again = own.render(SENTENCE)
    assert len(again) == pytest.approx(len(usual), rel=0.02)
    assert (
        float(envelope(again) @ envelope(usual)) > 0.98 > float(envelope(other) @ envelope(usual))
    )


def test_a_reply_comes_clause_by_clause_and_is_the_same_at_one_go(renderer: Renderer) -> None:
    renderer.change(Delivery())
    pieces = list(renderer.pieces(SENTENCE))
    assert len(pieces) == 2
    np.testing.assert_array_equal(np.concatenate(pieces), renderer.render(SENTENCE))
    pause = np.flatnonzero(pieces[1])[0] / RATE_HZ
    assert pause >= SENTENCE_S
    renderer.change(Delivery(rate_wpm=220))
    *_, faster = renderer.pieces(SENTENCE)
    assert np.flatnonzero(faster)[0] / RATE_HZ == pytest.approx(pause * 160 / 220, abs=0.03)


def test_what_cannot_be_had_is_refused(own: Renderer) -> None:
    for wrong in ({"rate_wpm": 119}, {"rate_wpm": 221}, {"volume": 1.01}, {"volume": -0.1}):
        with pytest.raises(DeliveryRefusedError) as refused:
            Delivery(**wrong)
        assert {refused.value.field: refused.value.value} == wrong
    with pytest.raises(DeliveryRefusedError, match="one of"):
        own.change(Delivery(voice="nobody"))
    assert own.delivery == Delivery()


def test_nothing_is_printed(capfd: pytest.CaptureFixture[str]) -> None:
    with Renderer() as renderer:
        assert len(renderer.render(SENTENCE))
        renderer.voices()
    assert capfd.readouterr() == ("", "")


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="reads Linux's /proc")
def test_no_system_library_is_needed(own: Renderer) -> None:
    pytest.importorskip("espeakng_loader")
    own.render("ready")
    maps = Path(f"/proc/{own.child_pid}/maps").read_text()
    libraries = {line.split()[-1] for line in maps.splitlines() if "espeak-ng.so" in line}
    assert libraries
    assert all("espeakng_loader" in library for library in libraries)


def test_the_oldest_renders_are_forgotten(renderer: Renderer) -> None:
    for number in range(KEPT_RENDERS + 5):
        renderer.render("six" + "," * number)
    assert len(renderer.kept()) == KEPT_RENDERS
    assert ("six", renderer.delivery) not in renderer.kept()


def test_renders_cannot_be_changed_by_who_gets_them(renderer: Renderer) -> None:
    with pytest.raises(ValueError, match="read-only"):
        renderer.render("six")[0] = 1


class _Recorder:
    """A player that keeps what it gets; the real one is tested with a virtual card."""

    def __init__(self) -> None:
        self.got: list[Samples] = []
        self.go_on: list[bool] = []

    @property
    def playing(self) -> bool:
        return bool(self.got)

    @property
    def heard_from_s(self) -> float:
        return 0.0

    def play(self, samples: Samples, *, goes_on: bool = False) -> None:
        self.got.append(samples)
        self.go_on.append(goes_on)

    def stop(self) -> None:
        self.got.clear()


def test_the_speaker_plays_what_is_rendered(renderer: Renderer) -> None:
    player = _Recorder()
    speaker = PlayedSpeaker(renderer, player)
    speaker.say("six")
    speaker.say("seven")
    assert speaker.speaking
    np.testing.assert_array_equal(player.got[0], renderer.render("six"))
    np.testing.assert_array_equal(player.got[1], renderer.render("seven"))
    speaker.say("eight. And nine.")
    assert player.go_on == [False, False, False, True]
    speaker.stop()
    assert not speaker.speaking
