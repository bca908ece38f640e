"""The whole program on a virtual sound card: spoken words in, spoken replies out, loss and return.
"""

from __future__ import annotations

import os
import queue
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
import pytest
import soundfile  # type: ignore[import-untyped]

from pattern.history import CODEC, state_after
from pattern.journal import Journal
from tests.virtual_audio import VirtualAudio, virtual_audio
from voice.delivery import Delivery
from voice.endpoint import Endpointer
from voice.hearing import Hearing
from voice.ports import RATE_HZ, Samples
from voice.recognisers.chosen import open_recogniser
from voice.sentences.hearing import KEEPS_AUDIO, TYPING
from voice.sound_watch import likeness
from voice.speaker import Renderer
from voice.turns import ECHO_S

ROOT = Path(__file__).parent.parent
HAT = ("--head", "52cm", "--yarn", "4", "--hook", "4.5", "--unit", "cm")
LIMIT_S = 40.0
"""Long enough for a loaded machine; nothing here measures time."""
ROUND_TWO = "Round two: two in each stitch. Twelve stitches."


class Program:
    """The running program: its lines as they come."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self.process = process
        self.seen: list[str] = []
        self._lines: queue.Queue[str] = queue.Queue()
        threading.Thread(target=self._collect, daemon=True).start()

    def wait_for(self, words: str) -> str:
        """The next line with these words."""
        end_s = time.monotonic() + LIMIT_S
        while (left_s := end_s - time.monotonic()) > 0:
            try:
                line = self._lines.get(timeout=left_s)
            except queue.Empty:
                break
            self.seen.append(line)
            if words in line:
                return line
        pytest.fail(f"no line with {words!r} in {self.seen}")

    def _collect(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self._lines.put(line.rstrip("\n"))


@contextmanager
def calling(folder: Path, *options: str, **variables: str) -> Iterator[Program]:
    """The program by voice, ended with the block."""
    command = [sys.executable, "-m", "voice", "call", "--piece", "x", "--folder", str(folder)]
    with subprocess.Popen(
        [*command, *HAT, *options], cwd=ROOT, env={**os.environ, **variables}, text=True,
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
    ) as process:  # fmt: skip
        try:
            yield Program(process)
        finally:
            process.kill()


@pytest.fixture
def card(monkeypatch: pytest.MonkeyPatch) -> Iterator[VirtualAudio]:
    with virtual_audio(monkeypatch) as own:
        yield own


@pytest.fixture(scope="module")
def maker() -> Iterator[Renderer]:
    with Renderer(Delivery(rate_wpm=150)) as shared:
        yield shared


def say(card: VirtualAudio, maker: Renderer, words: str) -> None:
    """Speak into the microphone, after and before a silence that ends the utterance."""
    pause = np.zeros(RATE_HZ * 3 // 4, np.int16)
    card.feed(np.concatenate([pause, maker.render(words), pause]))


def wait_until_silent(card: VirtualAudio) -> Samples:
    """What is said at the loudspeaker until it has been silent for a second and a half."""
    end_s = time.monotonic() + LIMIT_S
    with card.listen() as ear:
        while time.monotonic() < end_s:
            time.sleep(0.1)
            heard = ear.heard()
            if len(heard) > 1.5 * RATE_HZ and not heard[-round(1.5 * RATE_HZ) :].any():
                return heard
    pytest.fail("it never falls silent")


def test_words_are_heard_and_answered_aloud(
    card: VirtualAudio, maker: Renderer, tmp_path: Path
) -> None:
    kept = tmp_path / "kept"
    with calling(tmp_path, "--keep-audio", str(kept)) as program:
        program.wait_for("Round one: six single crochet into a ring")
        assert KEEPS_AUDIO in program.seen
        wait_until_silent(card)
        with card.listen() as ear:
            say(card, maker, "next")
            program.wait_for("> next")
            program.wait_for(ROUND_TWO)
            reply = np.concatenate([ear.heard(), wait_until_silent(card)])
        with Renderer() as ours:
            assert likeness(ours.render(ROUND_TWO)[: 2 * RATE_HZ], reply) > 0.5
        say(card, maker, "again")
        program.wait_for("> again")
        program.wait_for(ROUND_TWO)
        wait_until_silent(card)
        say(card, maker, "leave")
        program.wait_for("> leave")
        assert program.process.wait(LIMIT_S) == 0
    sounds = sorted(kept.iterdir())
    assert [file.name for file in sounds] == ["00001.wav", "00002.wav", "00003.wav"]
    assert soundfile.info(sounds[0]).samplerate == RATE_HZ


def test_the_reply_is_understood_by_its_own_recogniser(
    card: VirtualAudio, maker: Renderer, tmp_path: Path
) -> None:
    """The question about a doubtful reading, said aloud, holds a phrase of the maker's."""
    hearing = Hearing(open_recogniser())
    with calling(tmp_path) as program:
        program.wait_for("Round one")
        wait_until_silent(card)
        with card.listen() as ear:
            say(card, maker, "count six")
            program.wait_for("> count six")
            wait_until_silent(card)
            reply = ear.heard()
    cutter = Endpointer()
    words = [hearing.decide(each.samples).text for each in [*cutter.feed(reply), *cutter.finish()]]
    hearing.close()
    assert words


def test_a_sound_server_that_dies_in_mid_reply(
    card: VirtualAudio, maker: Renderer, tmp_path: Path
) -> None:
    with calling(tmp_path) as program:
        program.wait_for("Round one")
        wait_until_silent(card)
        say(card, maker, "next")
        program.wait_for(ROUND_TWO)
        card.kill()
        program.wait_for("[The sound device went away; plug it in again, I keep trying.]")
        card.start()
        program.wait_for("[The sound is back; say your last words again.]")
        program.wait_for(ROUND_TWO)
        wait_until_silent(card)
        say(card, maker, "next")
        program.wait_for("Round three")
    told = [line for line in program.seen if "sound" in line and line.startswith("[")]
    assert len(told) == 2, "each is told once"
    with Journal.open(tmp_path, "x", CODEC, create=False) as journal:
        assert not journal.dropped_tail
        state = state_after(journal.turns)
    assert state.offered is not None
    assert state.offered.number == 3


@pytest.mark.skipif(Path("/dev/snd").exists(), reason="this computer has a sound card")
def test_without_a_device_it_goes_on_by_typed_words(tmp_path: Path) -> None:
    with calling(tmp_path, PULSE_SERVER="unix:/nowhere") as program:
        _typed_on(program)


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="wheels elsewhere carry PortAudio")
def test_without_portaudio_it_goes_on_by_typed_words(tmp_path: Path) -> None:
    (tmp_path / "sitecustomize.py").write_text(
        "import ctypes.util\nctypes.util.find_library = lambda name: None\n", encoding="utf-8"
    )
    with calling(tmp_path / "pieces", PYTHONPATH=str(tmp_path)) as program:
        assert "libportaudio2" in _typed_on(program)


def _typed_on(program: Program) -> str:
    why = program.wait_for(TYPING)
    program.wait_for("Round one")
    assert len(program.seen) == 3, "the name, the one sentence, the opening"
    assert program.process.stdin is not None
    program.process.stdin.write("next\n")
    program.process.stdin.flush()
    program.wait_for(ROUND_TWO)
    program.process.stdin.close()
    assert program.process.wait(LIMIT_S) == 0
    return why


def test_the_echo_time_is_shorter_than_the_makers_pause_here() -> None:
    assert ECHO_S < 0.75
