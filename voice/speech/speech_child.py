"""The child process with the text-to-speech engine, started and ended by `voice.speech.speaker`.

Requests come on standard input, one JSON object a line. Each answer is a line of JSON on the
original standard output, followed by the samples that it announces. Anything the engine prints is
discarded. However the parent ends, this process ends too, and leaves no file.
"""

from __future__ import annotations

import ctypes
import json
import os
import queue
import shutil
import signal
import sys
import threading
from pathlib import Path
from typing import TYPE_CHECKING, Any, BinaryIO

if TYPE_CHECKING:
    from voice.sound.ports import Samples

_PR_SET_PDEATHSIG = 1
"""Source: linux/prctl.h."""


def main() -> None:
    """Answer requests until standard input or the parent ends.

    The arguments are the parent's process ID, and a folder if the engine needs a named file.
    """
    folder = Path(sys.argv[2]) if len(sys.argv) > 2 else None
    _obey_only_the_parent()
    if folder is None:
        _end_with(int(sys.argv[1]))
    requests: queue.SimpleQueue[bytes] = queue.SimpleQueue()
    threading.Thread(target=_collect, args=(requests, folder), daemon=True).start()
    try:
        _serve(requests, _private_output(), folder)
    finally:
        _clear(folder)


def _obey_only_the_parent() -> None:
    """Ignore signals that are sent to both processes, since the parent handles them."""
    for name in ("SIGINT", "SIGTERM", "SIGHUP"):
        if number := getattr(signal, name, None):  # Windows has no SIGHUP
            signal.signal(number, signal.SIG_IGN)


def _end_with(parent: int) -> None:
    """Let Linux end this process with the parent, even if stopped or busy. Source: prctl(2).

    This is not used if there is a file to remove, since this process then has to do that first.
    """
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(_PR_SET_PDEATHSIG, ctypes.c_ulong(signal.SIGKILL))
        if os.getppid() != parent:  # the parent ended before the call
            os._exit(1)


def _collect(requests: queue.SimpleQueue[bytes], folder: Path | None) -> None:
    """Read requests until the parent is gone; then end the process at once, even if busy."""
    for line in sys.stdin.buffer:
        requests.put(line)
    _clear(folder)
    os._exit(0)


def _clear(folder: Path | None) -> None:
    if folder is not None:
        shutil.rmtree(folder, ignore_errors=True)  # the parent, where it lives, does it as well


def _serve(requests: queue.SimpleQueue[bytes], answers: BinaryIO, folder: Path | None) -> None:
    from voice.speech.speech_engine import (
        Engine,  # loading takes time, during which the parent may end
    )

    engine = Engine(folder)
    _answer(answers, {"ready": True})
    while True:
        request = json.loads(requests.get())
        try:
            if request.get("voices"):
                _answer(answers, {"voices": engine.voices(), "lacks": engine.lacks})
            else:
                samples, rate_hz = engine.render(**request)
                _answer(answers, {"rate_hz": rate_hz}, samples)
        except Exception as error:  # reported to the parent, which decides
            _answer(answers, {"error": f"{type(error).__name__}: {error}"})


def _private_output() -> BinaryIO:
    """Reserve standard output for the answers, since the engine prints to it for every text."""
    answers = os.fdopen(os.dup(1), "wb")
    with Path(os.devnull).open("wb") as nowhere:
        os.dup2(nowhere.fileno(), 1)
    return answers


def _answer(answers: BinaryIO, head: dict[str, Any], samples: Samples | None = None) -> None:
    body = b"" if samples is None else samples.astype("<i2").tobytes()
    answers.write(json.dumps({**head, "bytes": len(body)}).encode() + b"\n" + body)
    answers.flush()


if __name__ == "__main__":
    main()
