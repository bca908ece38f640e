"""The parent's side of the text-to-speech process: starts it, asks it with a limit, ends it."""

import json
import os
import queue
import subprocess
import sys
import tempfile
import threading
from collections.abc import Mapping
from concurrent.futures import Future
from contextlib import suppress
from pathlib import Path
from typing import IO, Any

from voice.speech.clear_voice import SYSTEM_ONLY

Answer = tuple[dict[str, Any], bytes]
_NAMELESS = hasattr(os, "memfd_create") and Path("/proc/self/fd").is_dir()
"""Whether the system has files in memory; otherwise the engine needs a named file."""


class ChildFailedError(Exception):
    """The child ended, hung or reported an error; the text is the reason."""


def own_module(
    name: str, *words: str, variables: Mapping[str, str] | None = None
) -> subprocess.Popen[bytes]:
    """Start a module of this program so that it imports nothing from the current folder.

    `variables` are set beside those of this process. Its input and output are pipes.
    """
    here = str(Path(__file__).resolve().parents[2])
    path = [here, *os.environ.get("PYTHONPATH", "").split(os.pathsep)]
    return subprocess.Popen(
        [sys.executable, "-P", "-m", name, *words],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env={
            **os.environ,
            **(variables or {}),
            "PYTHONPATH": os.pathsep.join(filter(None, path)),
        },
    )


class SpeechChild:
    """One run of the child process, which takes one request at a time, each with a time limit."""

    def __init__(self, start_limit_s: float, *, system_only: bool) -> None:
        """Start the child, with the system's voices alone if wanted, and wait until it is ready.

        Raises ChildFailedError.
        """
        self._variables = dict([SYSTEM_ONLY]) if system_only else {}
        # Made here, since a killed child could not remove it. If this process dies, the child does.
        self._folder = (
            None
            if _NAMELESS
            else tempfile.TemporaryDirectory(prefix="speech-", ignore_cleanup_errors=True)
        )
        self._answers: queue.Queue[Answer | None] = queue.Queue()
        self._requests: queue.Queue[bytes | None] = queue.Queue()
        started: Future[subprocess.Popen[bytes]] = Future()
        self._threads = [
            threading.Thread(target=work, args=(started,), name="speech-pipe", daemon=True)
            for work in (self._run, self._write)
        ]
        for thread in self._threads:
            thread.start()
        try:
            self._process = started.result()
        except BaseException:
            self._clear()
            raise
        try:
            self._wait(start_limit_s)
        except ChildFailedError:
            self.end()
            raise

    @property
    def pid(self) -> int:
        """The child's process ID."""
        return self._process.pid

    def ask(self, request: dict[str, Any], limit_s: float) -> Answer:
        """Return the child's answer to one request.

        Raises ChildFailedError; the child is then in an unknown state and must be ended.
        """
        self._requests.put(json.dumps(request).encode() + b"\n")
        return self._wait(limit_s)

    def end(self) -> None:
        """End the child at once, even if it is frozen, and release its pipes."""
        self._process.kill()
        self._process.wait()
        self._requests.put(None)
        for thread in self._threads:
            thread.join()
        self._clear()

    def _clear(self) -> None:
        if self._folder is not None:
            self._folder.cleanup()

    def _wait(self, limit_s: float) -> Answer:
        try:
            answer = self._answers.get(timeout=limit_s)
        except queue.Empty:
            raise ChildFailedError(f"no answer in {limit_s:g} seconds") from None
        if answer is None:
            raise ChildFailedError(f"the engine ended with code {self._process.wait()}")
        if "error" in answer[0]:
            raise ChildFailedError(answer[0]["error"])
        return answer

    def _start(self) -> subprocess.Popen[bytes]:
        folder = [self._folder.name] if self._folder else []
        words = (str(os.getpid()), *folder)
        return own_module("voice.speech.speech_child", *words, variables=self._variables)

    def _run(self, started: Future[subprocess.Popen[bytes]]) -> None:
        """Start the child and pass on its answers.

        Both happen in one thread, since Linux ends the child with the thread that started it
        (prctl(2)).
        """
        try:
            process = self._start()
        except BaseException as error:  # raised again in the thread that wanted the child
            started.set_exception(error)
            return
        started.set_result(process)
        assert process.stdout is not None
        self._read(process.stdout)

    def _write(self, started: Future[subprocess.Popen[bytes]]) -> None:
        """Write requests, in a separate thread, since a full pipe to a frozen child blocks."""
        if started.exception() is not None:
            return
        pipe = started.result().stdin
        assert pipe is not None
        with suppress(BrokenPipeError), pipe:  # the other pipe tells that the child ended
            while (request := self._requests.get()) is not None:
                pipe.write(request)
                pipe.flush()

    def _read(self, pipe: IO[bytes]) -> None:
        """Pass on answers until the pipe ends; an incomplete last answer is dropped."""
        with pipe:
            while (line := pipe.readline()).endswith(b"\n"):
                head = json.loads(line)
                body = pipe.read(head["bytes"])
                if len(body) < head["bytes"]:
                    break
                self._answers.put((head, body))
        self._answers.put(None)
