"""The page while a call lasts: drawn and served by a process of its own."""

from __future__ import annotations

import errno
import json
import secrets
import subprocess
import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import asdict
from importlib.util import find_spec
from types import TracebackType

from pattern.session.state import State
from voice.page.page_child import LOOPBACK, Had, Wanted
from voice.page.said import Said
from voice.speech.speech_process import own_module

_NEEDED = ("starlette", "uvicorn")
QUIET_S = 5.0
"""A page is sent a sign of life after so long; our choice."""
_CLOSING_S = 5.0
_AFTER_S = 0.1
"""The page is drawn between once and twice so long after something is said: the voice comes first.
It is looked after, since waking a thread that waits lets whatever else is busy go before the voice.
Our choice."""


class PageBeside:
    """Shows things on the page; whoever does never waits for it, or for a reader."""

    def __init__(
        self,
        port: int = 0,
        hear: Callable[[bytes], bool] | None = None,
        *,
        quiet_s: float = QUIET_S,
    ) -> None:
        """Listens at once, on any free port if `port` is taken; `hear` takes words from the page.

        A page that is sent nothing for `quiet_s` is sent a sign of life. Raises: OSError when no
        port can be had; ImportError where a package is missing.
        """
        for needed in _NEEDED:
            if find_spec(needed) is None:
                raise ImportError(needed)
        self._hear = hear
        token = secrets.token_urlsafe(16)
        self._process = own_module("voice.page.page_child")
        self._telling = threading.Lock()
        self._write_json(asdict(Wanted(port, token, quiet_s, typed=hear is not None)))
        had = self._had()
        self.taken = had.taken
        """Whether the port that was wanted was taken."""
        self.address = f"http://{LOOPBACK}:{had.port}/{token}/"
        """Where the page is, with the token of this call."""
        self._newest: Said | None = None
        self._threads = [
            threading.Thread(target=self._read, name="page words", daemon=True),
            threading.Thread(target=self._hand_on, name="page news", daemon=True),
        ]
        self._closed = threading.Event()

    def __enter__(self) -> PageBeside:
        """Begin to show, and to take words."""
        for thread in self._threads:
            thread.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """End, whatever readers are there, after what was said last."""
        self._closed.set()
        reading, handing = self._threads
        handing.join(_CLOSING_S)
        try:
            self._process.wait(_CLOSING_S)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()
        reading.join(_CLOSING_S)

    def show(self, text: str, state: State) -> None:
        """Show something that was said; returns at once, and only the newest is drawn."""
        self._newest = Said(text, state)

    def _had(self) -> Had:
        """The port that could be had. Raises: OSError."""
        assert self._process.stdout is not None
        line = self._process.stdout.readline()
        had = Had(**json.loads(line)) if line else Had(refused="its process ended")
        if had.refused:
            self._process.communicate()
            raise OSError(errno.EADDRNOTAVAIL, had.refused)
        return had

    def _hand_on(self) -> None:
        """Hand the newest to the server a moment later, also what is said last of all."""
        seen = given = None
        closed = False
        while not closed:
            closed = self._closed.wait(_AFTER_S)
            said = self._newest
            if said is not None and said is not given and (closed or said is seen):
                self._write(said.as_line())
                given = said
            seen = said
        assert self._process.stdin is not None
        with self._telling, suppress(OSError):  # where the server has ended already
            self._process.stdin.close()

    def _read(self) -> None:
        """Take words until the server ends."""
        assert self._process.stdout is not None
        with self._process.stdout as lines:
            for line in lines:
                taken = self._hear is not None and self._hear(json.loads(line).encode("latin-1"))
                self._write_json(taken)

    def _write_json(self, content: object) -> None:
        self._write(json.dumps(content).encode() + b"\n")

    def _write(self, line: bytes) -> None:
        """Write a line to the server; nothing where that has ended: the call goes on without."""
        assert self._process.stdin is not None
        with self._telling, suppress(OSError, ValueError):
            self._process.stdin.write(line)
            self._process.stdin.flush()
