"""What an attack is given, and where it writes down what fell."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from tests.command_lines import Ended, own_place

ROOT = Path(__file__).parents[3]
LIMIT_S = 10.0
"""For one command; a machine that does other things as well is allowed for elsewhere."""
PROCESS_LIMIT_S = 60.0


class TooLong(BaseException):
    """It ran past its limit; no handler of the program takes it for its own."""


@contextmanager
def limited(limit_s: float = LIMIT_S) -> Iterator[None]:
    """Raises TooLong in the block where it runs past the limit."""

    def over(*_: object) -> None:
        raise TooLong

    before = signal.signal(signal.SIGALRM, over)
    signal.setitimer(signal.ITIMER_REAL, limit_s)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)


@dataclass
class Field:
    """One kind of attack: its chance, its folder, its end, and what came of it."""

    rng: random.Random
    place: Path
    marked: dict[str, str]
    """Variables by which its processes are known."""
    until_s: float
    """On the monotonic clock."""
    tried: int = 0
    fallen: list[str] = field(default_factory=list)

    @property
    def going(self) -> bool:
        """Whether there is time for another one."""
        return time.monotonic() < self.until_s

    def check(self, why: str | None, what: object) -> None:
        """Count one; `why` it fell, None where it stood."""
        self.tried += 1
        if why is not None:
            self.fallen.append(f"{why}: {what!r}")

    def environment(self) -> dict[str, str]:
        """Of its processes: all that they keep is kept in the folder."""
        return {**os.environ, **own_place(self.place), **self.marked}

    def program(self, *args: str, typed: bytes = b"", limit_s: float = PROCESS_LIMIT_S) -> Ended:
        """The program as a process, to its end."""
        command = [sys.executable, "-m", "voice", *args]
        try:
            done = subprocess.run(
                command,
                input=typed,
                capture_output=True,
                check=False,
                env=self.environment() | {"PYTHONPATH": str(ROOT)},
                cwd=self.place,
                timeout=limit_s,
            )
        except subprocess.TimeoutExpired:
            return Ended("no end", "", "")
        said = (stream.decode(errors="backslashreplace") for stream in (done.stdout, done.stderr))
        return Ended(done.returncode, *said)


@contextmanager
def here(place: Path) -> Iterator[None]:
    """What runs in this process keeps all that it keeps in the folder."""
    before, cwd = dict(os.environ), Path.cwd()
    os.environ.update(own_place(place))
    os.chdir(place)
    try:
        yield
    finally:
        os.chdir(cwd)
        os.environ.clear()
        os.environ.update(before)
