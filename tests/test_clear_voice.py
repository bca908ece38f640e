"""The clear voice: it speaks by itself where it is installed, and eSpeak where it cannot."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from tests.bench.written_down import tokens
from voice.cli.checks import speaking
from voice.hearing.listening import Hearing
from voice.recognisers.net.moonshine import Moonshine
from voice.sound.ports import FULL_SCALE, RATE_HZ, Samples
from voice.speech.clear_voice import PACKAGE, VOICE
from voice.speech.delivery import Delivery
from voice.speech.levels import LEVEL_DB, level_db
from voice.speech.speaker import Renderer

pytest.importorskip("hibari")
pytestmark = pytest.mark.usefixtures("all_voices")
ROUND = "Round sixteen: two in the next, one in each of the next thirteen, twice. Sixty stitches."
ESPEAK = "gmw/en-gb-x-rp"


@pytest.fixture(scope="module")
def opened() -> Iterator[Renderer]:
    with Renderer() as shared:
        yield shared


@pytest.fixture
def clear(opened: Renderer, all_voices: None) -> Renderer:  # noqa: ARG001 - before the child starts
    opened.change(Delivery())
    return opened


def test_it_speaks_by_itself_and_leads_the_voices(clear: Renderer) -> None:
    sound = clear.render(ROUND)
    assert clear.lacks() == ""
    assert clear.voices()[0].id == VOICE
    assert ESPEAK in [voice.id for voice in clear.voices()]
    clear.change(Delivery(voice=VOICE))
    assert clear.render(ROUND).tobytes() == sound.tobytes()
    clear.change(Delivery(voice=ESPEAK))
    assert clear.render(ROUND).tobytes() != sound.tobytes()


def test_it_lasts_as_long_as_its_words_at_every_rate(clear: Renderer) -> None:
    for rate_wpm in (120, 160, 220):
        clear.change(Delivery(rate_wpm))
        wanted_s = 60 * len(ROUND.split()) / rate_wpm
        assert len(clear.render(ROUND)) / RATE_HZ == pytest.approx(wanted_s, rel=0.25)


def level(sound: Samples) -> float:
    return level_db(sound.astype(np.float32) / FULL_SCALE, RATE_HZ)


def test_all_voices_are_as_loud_as_each_other_and_none_clips(clear: Renderer) -> None:
    for voice in (VOICE, ESPEAK, "gmw/en-us"):
        for volume in (1.0, 0.3):
            clear.change(Delivery(volume=volume, voice=voice))
            for text in (ROUND, "Six.", "Measure around the edge, to see that it fits."):
                sound = clear.render(text)
                assert level(sound) == pytest.approx(LEVEL_DB + 20 * np.log10(volume), abs=1.5)
                assert np.max(np.abs(sound.astype(int))) < FULL_SCALE - 1


def test_a_lost_child_is_replaced(clear: Renderer) -> None:
    clear.render("six")
    lost = clear.child_pid
    assert lost is not None
    os.kill(lost, signal.SIGKILL)
    assert len(clear.render("Round two: two in each stitch."))
    assert clear.child_pid not in (None, lost)
    assert clear.voices()[0].id == VOICE


def test_a_net_that_does_not_know_the_round_writes_its_numbers_down(
    clear: Renderer, hearing: Hearing
) -> None:
    """Held to no grammar; what is said is in `ROUND` alone."""
    assert hearing
    written = Moonshine().write(clear.render(ROUND))[0].words
    wanted = [token for token in tokens(ROUND) if isinstance(token, float)]
    assert [token for token in tokens(written) if isinstance(token, float)] == wanted


@pytest.mark.parametrize(
    ("code", "told"),
    [
        ("import hibari\ndel hibari.Hibari\n", "can't be opened (AttributeError"),
        ("import sys\nsys.modules['hibari'] = None\n", "isn't installed"),
        ("import hibari\nhibari.Hibari.__call__ = lambda *_, **__: 1 / 0\n", "(ZeroDivisionError"),
    ],
)
def test_without_it_espeak_speaks_and_what_to_do_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: str, told: str
) -> None:
    (tmp_path / "sitecustomize.py").write_text(code, "utf-8")
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    with Renderer() as renderer:
        assert len(renderer.render(ROUND)) > 3 * RATE_HZ
        assert VOICE not in [voice.id for voice in renderer.voices()]
        assert told in renderer.lacks()
        assert renderer.lacks().endswith(f" {PACKAGE}")


@pytest.mark.parametrize("here", [True, False])
def test_the_check_speaks_of_it_where_it_is_lacking(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, here: bool
) -> None:
    if not here:
        (tmp_path / "sitecustomize.py").write_text("import sys\nsys.modules['hibari'] = None\n")
        monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    about = [found for found in speaking() if found.what == "clear voice"]
    assert [found.good for found in about] == ([] if here else [False])


def test_no_word_is_lost_on_it_where_the_voices_of_the_system_are_wanted() -> None:
    with Renderer(system_only=True) as renderer:
        assert VOICE not in [voice.id for voice in renderer.voices()]
        assert renderer.lacks() == ""
