"""A typed call as a process that is talked with, and whole calls of random lines."""

from __future__ import annotations

import json
import os
import random
import select
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.bench.attack.field import ROOT, Field
from voice.sentences.examples import example
from voice.words.phrases import PHRASES

REPLY_S, BEGIN_S = 2.0, 30.0
"""A reply may take so long; to begin, more has to be loaded."""
HAT = ("--head", "42cm", "--yarn", "6", "--hook", "10", "--unit", "cm")
SAID = sorted(example(form) for phrase in PHRASES for form in phrase.forms)


class Talk:
    """One call, a line at a time."""

    def __init__(self, child: subprocess.Popen[bytes]) -> None:
        self.child = child
        self._waiting = b""
        self.over = False
        """Whether it has said all, as after its goodbye."""

    def type(self, line: bytes) -> bool:
        """Type it; False where nobody reads it any more."""
        assert self.child.stdin is not None
        try:
            self.child.stdin.write(line + b"\n")
            self.child.stdin.flush()
        except BrokenPipeError:
            return False
        return True

    def reply(self, limit_s: float = REPLY_S) -> dict[str, Any] | None:
        """The next reply; None where none comes in time, or no more come."""
        assert self.child.stdout is not None
        until_s = time.monotonic() + limit_s
        while b"\n" not in self._waiting:
            left_s = until_s - time.monotonic()
            if left_s <= 0 or not select.select([self.child.stdout], [], [], left_s)[0]:
                return None
            if not (block := os.read(self.child.stdout.fileno(), 1 << 16)):
                self.over = True
                return None
            self._waiting += block
        line, _, self._waiting = self._waiting.partition(b"\n")
        found: dict[str, Any] = json.loads(line)
        return found

    def end(self) -> tuple[int, str]:
        """Ends the input; the exit code, and what was said on standard error."""
        try:
            _, said = self.child.communicate(timeout=BEGIN_S)
        except subprocess.TimeoutExpired:
            self.child.kill()
            return 124, "no end"
        return self.child.returncode, said.decode(errors="backslashreplace")


@contextmanager
def talk(field: Field, folder: Path) -> Iterator[Talk]:
    """A call of the piece `x` in that folder."""
    command = [
        sys.executable,
        "-m",
        "voice",
        "call",
        "--typed",
        "--json",
        "--piece",
        "x",
        "--folder",
        str(folder),
        *HAT,
    ]
    with subprocess.Popen(
        command,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=field.place,
        env=field.environment() | {"PYTHONPATH": str(ROOT)},
    ) as child:
        try:
            yield Talk(child)
        finally:
            child.kill()


def typed_calls(field: Field) -> None:
    """Each reply within two seconds, one to a line, and no traceback at the end."""
    while field.going:
        _call(field, field.place / f"call {field.tried}")


def _call(field: Field, folder: Path) -> None:
    with talk(field, folder) as call:
        line, limit_s = b"(the beginning)", BEGIN_S
        for _ in range(field.rng.randint(20, 120)):
            said = call.reply(limit_s)
            if call.over:
                break
            field.check(None if said else f"no reply within {limit_s:g} s", line[:200])
            line, limit_s = a_line(field.rng), REPLY_S
            if said is None or not field.going or not call.type(line):
                break
        code, told = call.end()
        field.check(f"ended with {code}" if code or told else None, (line[:200], told[-400:]))


def a_line(rng: random.Random) -> bytes:
    """A phrase, a phrase with something wrong, or anything."""
    how, phrase = rng.random(), rng.choice(SAID)
    if how < 0.45:
        return phrase.encode()
    if how < 0.6:
        return b"next"
    if how < 0.75:
        return b" ".join(rng.choice(SAID).encode() for _ in range(rng.randint(2, 5)))
    data = bytearray(phrase.encode())
    if how < 0.9:
        for _ in range(rng.randint(1, 4)):
            at = rng.randrange(len(data) + 1)
            data[at : at + rng.randint(0, 3)] = rng.choice(
                [b" ", b"9" * rng.randint(1, 500), b"\xff", b"-", b"1/0", "½".encode(), b"zero"]
            )
    elif how < 0.97:
        data = bytearray(rng.randbytes(rng.randint(0, 60)))
    else:
        data = bytearray(rng.choice([b"a", b"nine ", b"9", b"\xff"]) * rng.randint(1000, 200_000))
    return bytes(data).replace(b"\n", b" ")
