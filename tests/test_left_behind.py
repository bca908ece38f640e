"""However the program ends, it leaves no file and no process."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.properties import together
from tests.running_program import LIMIT_S, ROOT, Program
from tests.small_hat import SCENARIO

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="reads Linux's /proc")
DEADLY = [signal.SIGTERM, signal.SIGHUP, signal.SIGKILL] if os.name == "posix" else []
MOMENTS = ("child started", "child idle", "child busy")

SPEAKING = """
import subprocess, sys
from voice.speech import speech_process

class Told(subprocess.Popen):
    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        print("child started", self.pid, flush=True)

subprocess.Popen = Told
if sys.argv[1:] == ["named"]:
    speech_process._NAMELESS = False

from voice.speech.speaker import Renderer
renderer = Renderer(limit_s=1000.0)
renderer.render("six")
print("child idle", renderer.child_pid, flush=True)
sys.stdin.readline()
print("child busy", renderer.child_pid, flush=True)
for number in range(10_000):  # much longer texts end the engine of themselves
    renderer.render(f"{number}. " + "Two in each of the next six stitches. " * 100)
"""
"""Tells every moment with the number of the child."""


@contextmanager
def running(temp: Path, *command: str) -> Iterator[Program]:
    """A process with a session and a folder for temporary files of its own."""
    temp.mkdir(exist_ok=True)
    with subprocess.Popen(
        [sys.executable, *command],
        cwd=ROOT,
        env={**os.environ, "TMPDIR": str(temp)},
        text=True,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        start_new_session=True,
    ) as process:
        try:
            yield Program(process)
        finally:
            process.kill()


def session_of(leader: int) -> list[int]:
    """The processes of a session that run or are stopped. Source: proc_pid_stat(5)."""
    found = []
    for place in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = place.read_text("utf-8", errors="replace").rpartition(")")[2].split()
        except (FileNotFoundError, ProcessLookupError):  # it has just ended
            continue
        if fields[0] not in "ZX" and int(fields[3]) == leader:
            found.append(int(place.parent.name))
    return found


def assert_nothing_left(leader: int, temp: Path) -> None:
    """Soon there is neither a process of the session nor a temporary file."""
    end_s = time.monotonic() + LIMIT_S
    while (left := session_of(leader)) and time.monotonic() < end_s:
        time.sleep(0.01)
    for process in left:
        os.kill(process, signal.SIGKILL)
    assert left == []
    assert list(temp.iterdir()) == []


def child_at(moment: str, program: Program) -> int:
    """The number of the child, when it has come so far."""
    if moment == "child busy":
        program.wait_for("child idle")
        program.type("go on")
    return int(program.wait_for(moment).split()[-1])


@pytest.mark.parametrize(("moment", "number"), together(MOMENTS, DEADLY))
def test_the_child_ends_with_its_parent(
    tmp_path: Path, number: signal.Signals, moment: str
) -> None:
    with running(tmp_path / "temp", "-c", SPEAKING) as program:
        child_at(moment, program)
        program.process.send_signal(number)
        assert program.process.wait(LIMIT_S) == -number
        assert_nothing_left(program.process.pid, tmp_path / "temp")


@pytest.mark.parametrize(("moment", "number"), together(MOMENTS[1:], DEADLY))
def test_a_stopped_child_ends_too(tmp_path: Path, number: signal.Signals, moment: str) -> None:
    with running(tmp_path / "temp", "-c", SPEAKING) as program:
        os.kill(child_at(moment, program), signal.SIGSTOP)
        program.process.send_signal(number)
        assert program.process.wait(LIMIT_S) == -number
        assert_nothing_left(program.process.pid, tmp_path / "temp")


@pytest.mark.parametrize(("moment", "number"), together(MOMENTS, DEADLY))
def test_where_sound_needs_a_named_file_the_child_removes_it(
    tmp_path: Path, number: signal.Signals, moment: str
) -> None:
    """As on macOS and Windows; a signal from the terminal reaches both of them."""
    with running(tmp_path / "temp", "-c", SPEAKING, "named") as program:
        child_at(moment, program)
        assert list((tmp_path / "temp").iterdir())
        if number is signal.SIGKILL or moment == "child started":
            program.process.send_signal(number)
        else:
            os.killpg(program.process.pid, number)
        assert program.process.wait(LIMIT_S) == -number
        assert_nothing_left(program.process.pid, tmp_path / "temp")


@pytest.mark.parametrize(
    ("moment", "number"), together(["How big is the head", "Round two:"], DEADLY)
)
def test_a_rehearsal_leaves_nothing(tmp_path: Path, number: signal.Signals, moment: str) -> None:
    scenario = tmp_path / "small.toml"
    scenario.write_text(SCENARIO, encoding="utf-8")
    options = ("--scenario", str(scenario), "--out", str(tmp_path / "out"))
    with running(tmp_path / "temp", "-m", "voice", "rehearse", *options) as program:
        program.wait_for(moment)
        program.process.send_signal(number)
        assert program.process.wait(LIMIT_S) == -number
        assert_nothing_left(program.process.pid, tmp_path / "temp")
    assert list((tmp_path / "out").iterdir()) == []
