"""The text-to-speech process killed, frozen and late, for real."""

import os
import signal
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from voice.speech import speech_process
from voice.speech.speaker import Renderer, SpeechFailedError

SENTENCE = "Round seven. Two single crochet in each of the next six stitches."
posix = pytest.mark.skipif(sys.platform == "win32", reason="signals are POSIX")


@pytest.fixture
def own() -> Iterator[Renderer]:
    with Renderer(limit_s=1.5) as renderer:
        yield renderer


@posix
@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGSTOP] if os.name == "posix" else [])
def test_a_lost_child_is_replaced_unnoticed(own: Renderer, number: signal.Signals) -> None:
    before = own.render(SENTENCE)
    pid = own.child_pid
    assert pid is not None
    os.kill(pid, number)
    assert len(own.render("another text"))
    assert own.child_pid not in (None, pid)
    with Renderer() as fresh:
        after = fresh.render(SENTENCE)
    # Not sample by sample: once, eSpeak NG was seen to make 6 samples of 71,000 more.
    assert len(after) == pytest.approx(len(before), rel=0.001)
    with pytest.raises(ProcessLookupError):
        os.kill(pid, 0)


@posix
@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGSTOP] if os.name == "posix" else [])
def test_failing_twice_is_an_error_and_the_next_text_works(
    own: Renderer, number: signal.Signals
) -> None:
    """Every child is hit in the middle of a text longer than a pipe holds."""
    own.render("ready")
    done, hit = threading.Event(), set[int]()

    def hit_each_child() -> None:
        while not done.wait(0.001):
            if (pid := own.child_pid) is not None and pid not in hit:
                os.kill(pid, number)
                hit.add(pid)

    hunter = threading.Thread(target=hit_each_child)
    hunter.start()
    try:
        with pytest.raises(SpeechFailedError) as failed:
            own.render(" ".join(["and then increase"] * 20_000))
    finally:
        done.set()
        hunter.join()
    assert len(hit) == 2
    assert failed.value.text.startswith("and then increase")
    assert failed.value.reason in str(failed.value)
    assert len(own.render("and on it goes"))


def test_an_engine_that_does_not_start_in_time_is_an_error() -> None:
    with (
        Renderer(start_limit_s=0.001) as renderer,
        pytest.raises(SpeechFailedError, match="no answer in"),
    ):
        renderer.render("six")


@posix
def test_prepared_and_repeated_texts_need_no_child(own: Renderer) -> None:
    own.render("asked before")
    own.prepare("made ready")
    assert own.child_pid is not None
    deadline_s = time.monotonic() + 10
    while ("made ready", own.delivery) not in own.kept() and time.monotonic() < deadline_s:
        time.sleep(0.01)
    pid = own.child_pid
    os.kill(pid, signal.SIGSTOP)
    assert len(own.render("made ready"))
    assert own.render("asked before") is own.render("asked before")
    assert own.child_pid == pid


@pytest.mark.parametrize("nameless", [False, speech_process._NAMELESS])
def test_close_ends_the_child_even_with_texts_to_prepare(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, nameless: bool
) -> None:
    monkeypatch.setattr(speech_process, "_NAMELESS", nameless)
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    renderer = Renderer()
    renderer.render("six")
    pid = renderer.child_pid
    for number in range(500):
        renderer.prepare(f"text number {number}")
    assert bool(list(tmp_path.iterdir())) is not nameless
    renderer.close()
    assert renderer.child_pid is None
    assert not list(tmp_path.iterdir())
    if os.name == "posix" and pid is not None:
        with pytest.raises(ProcessLookupError):
            os.kill(pid, 0)


def test_a_child_outlives_the_thread_that_first_spoke(own: Renderer) -> None:
    """Linux ends it with the thread that started it (prctl(2))."""
    speaks = threading.Thread(target=own.render, args=("six",))
    speaks.start()
    speaks.join()
    pid = own.child_pid
    assert len(own.render("seven"))
    assert own.child_pid == pid


def test_a_child_that_cannot_be_started_is_told_where_it_was_wanted(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, own: Renderer
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    monkeypatch.setattr(sys, "executable", str(tmp_path / "gone"))
    with pytest.raises(FileNotFoundError):
        own.render("six")
    assert not list(tmp_path.iterdir())
    monkeypatch.undo()
    assert len(own.render("six"))
