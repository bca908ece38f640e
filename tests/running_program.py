"""The program as a process that is talked with: its lines as they come."""

from __future__ import annotations

import os
import queue
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

ROOT = Path(__file__).parent.parent
LIMIT_S = 120.0
"""Long enough for a loaded machine; nothing here measures time."""


HAT = ("--head", "52cm", "--yarn", "4", "--hook", "4.5", "--unit", "cm")
"""A hat whose settings are all given, so that a call begins with its first round."""


class Program:
    """The running program: its lines as they come."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self.process = process
        self.seen: list[str] = []
        self._lines: queue.Queue[str] = queue.Queue()
        threading.Thread(target=self._collect, daemon=True).start()

    def wait_for(self, *words: str) -> str:
        """The next line with these words, or with others."""
        if (line := self.comes(*words, limit_s=LIMIT_S)) is None:
            pytest.fail(f"no line with {words!r} in {self.seen}")
        return line

    def comes(self, *words: str, limit_s: float) -> str | None:
        """The same; None where it does not come in time."""
        end_s = time.monotonic() + limit_s
        while (left_s := end_s - time.monotonic()) > 0:
            try:
                line = self._lines.get(timeout=left_s)
            except queue.Empty:
                break
            self.seen.append(line)
            if any(each in line for each in words):
                return line
        return None

    def type(self, *words: str) -> None:
        """Type lines, and end the input."""
        assert self.process.stdin is not None
        self.process.stdin.write("".join(f"{each}\n" for each in words))
        self.process.stdin.close()

    def _collect(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self._lines.put(line.rstrip("\n"))


@cache
def _round_one_done() -> dict[str, bytes]:
    """The files of a piece whose first round is done, as the program itself leaves them."""
    with TemporaryDirectory() as name:
        folder = Path(name)
        with calling(folder, "--typed", *HAT) as program:
            program.type("next", "brief", "leave")
            assert program.process.wait(LIMIT_S) == 0
        return {file.name: file.read_bytes() for file in folder.iterdir()}


def round_one_done(folder: Path) -> Path:
    """The folder with a piece whose first round is done, so that the opening is short."""
    for name, kept in _round_one_done().items():
        (folder / name).write_bytes(kept)
    return folder


@contextmanager
def calling(folder: Path, *options: str, **variables: str) -> Iterator[Program]:
    """The program by voice, ended with the block."""
    command = [sys.executable, "-m", "voice", "call", "--piece", "x", "--folder", str(folder)]
    with subprocess.Popen(
        [*command, *options],
        cwd=ROOT,
        env={**os.environ, **variables},
        text=True,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
    ) as process:
        try:
            yield Program(process)
        finally:
            process.kill()
