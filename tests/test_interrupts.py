"""Ctrl-C at any moment from the first import on, and more than once, is one sentence."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.properties import together

ROOT = Path(__file__).parent.parent
STOPS = """
import atexit, os, signal, sys
signal.signal(signal.SIGINT, signal.default_int_handler)  # ignored where tests run in background
from voice.cli.app import main

nth, times = int(sys.argv.pop(1)), int(sys.argv.pop(1))

def interrupt(*_):
    global times
    if times > 0:
        times -= 1
        os.kill(os.getpid(), signal.SIGINT)

class Stops:
    def find_spec(self, *_):
        global nth
        nth -= 1
        if nth == 0:
            again(sys.stderr)
            interrupt()

def again(stream):
    flush = stream.flush
    def flushed():
        interrupt()
        flush()
    stream.flush = flushed

sys.meta_path.insert(0, Stops())
atexit.register(interrupt)
atexit.register(interrupt)
sys.exit(main())
"""
"""Interrupts itself as the nth module is looked for, then while that is told, then at its end."""


@pytest.mark.skipif(os.name == "nt", reason="no SIGINT to oneself")
@pytest.mark.parametrize(("nth", "times"), together([1, 2, 5, 40, 90, 150], [1, 3, 4]))
def test_one_sentence_whenever_it_is_interrupted(nth: int, times: int, tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", STOPS, str(nth), str(times), "plan"],
        cwd=ROOT,
        text=True,
        capture_output=True,
        check=False,
        env={**os.environ, "XDG_STATE_HOME": str(tmp_path)},
    )
    # Where a class was just being made of a text, CPython ends by the signal itself (exit_sigint in
    # its main.c), which shells tell as 130 too.
    assert done.returncode in {130, -signal.SIGINT}, done.stderr
    assert done.stderr == "\nStopped; everything said so far is kept.\n"


@pytest.mark.skipif(os.name == "nt", reason="no SIGINT to oneself")
def test_little_is_loaded_before_an_interrupt_is_taken() -> None:
    """What is loaded by then is a moment in which it would be a traceback."""
    code = (
        "import sys, signal; b = set(sys.modules); import voice.cli.app; "
        "print(*(set(sys.modules) - b))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, text=True, capture_output=True, check=True
    )
    assert len(done.stdout.split()) < 12, done.stdout
