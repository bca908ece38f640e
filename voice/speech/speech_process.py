"""The parent's end of the text-to-speech process: start it, ask it within a time limit, end it."""

import json
import os
import queue
import subprocess
import sys
import tempfile
import threading
from concurrent.futures import Future
from contextlib import suppress
from pathlib import Path
from typing import IO, Any

Answer = tuple[dict[str, Any], bytes]
_NAMELESS = hasattr(os, "memfd_create") and Path("/proc/self/fd").is_dir()
"""Whether sound can go through a file in memory; elsewhere the engine needs one with a name."""


class ChildFailedError(Exception):
    """The child ended, hung or reported an error; its text is the reason."""


class SpeechChild:
    """One run of the child process: a request and its answer at a time, each within a limit."""

    def __init__(self, start_limit_s: float) -> None:
        """Start it and wait until its engine is ready.

        Raises ChildFailedError.
        """
        # Ours, not the child's: it is killed and could not clear up. Where we are, it does.
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
        """The child's process number."""
        return self._process.pid

    def ask(self, request: dict[str, Any], limit_s: float) -> Answer:
        """Return what the child answers to one request.

        Raises ChildFailedError; the child is then in no known state and must be ended.
        """
        self._requests.put(json.dumps(request).encode() + b"\n")
        return self._wait(limit_s)

    def end(self) -> None:
        """End the child at once, even one that is frozen, and release its pipes."""
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
        """The child; of the folder that we happen to be in it imports nothing."""
        here = str(Path(__file__).resolve().parents[2])
        path = [here, *os.environ.get("PYTHONPATH", "").split(os.pathsep)]
        return subprocess.Popen(
            [
                sys.executable,
                "-P",
                "-m",
                "voice.speech.speech_child",
                str(os.getpid()),
                *([self._folder.name] if self._folder else []),
            ],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env={**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, path))},
        )

    def _run(self, started: Future[subprocess.Popen[bytes]]) -> None:
        """Start the child and pass its answers on.

        In one thread: the system ends the child with the thread that started it (prctl(2)).
        """
        try:
            process = self._start()
        except BaseException as error:  # it is raised where the child was wanted
            started.set_exception(error)
            return
        started.set_result(process)
        assert process.stdout is not None
        self._read(process.stdout)

    def _write(self, started: Future[subprocess.Popen[bytes]]) -> None:
        """Write requests; in its own thread, for a frozen child lets the pipe fill and block."""
        if started.exception() is not None:
            return
        pipe = started.result().stdin
        assert pipe is not None
        with suppress(BrokenPipeError), pipe:  # that the child ended is told by the other pipe
            while (request := self._requests.get()) is not None:
                pipe.write(request)
                pipe.flush()

    def _read(self, pipe: IO[bytes]) -> None:
        """Pass answers on until the pipe ends; an answer torn by the child's end is none."""
        with pipe:
            while (line := pipe.readline()).endswith(b"\n"):
                head = json.loads(line)
                body = pipe.read(head["bytes"])
                if len(body) < head["bytes"]:
                    break
                self._answers.put((head, body))
        self._answers.put(None)
