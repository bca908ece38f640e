"""Made-up command lines: every option the parser has, found by introspection, with odd values."""

from __future__ import annotations

import argparse
import io
import random
import sys
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryFile

from voice.cli import app
from voice.cli.command_line import parser

ODD = (
    "",
    " ",
    "nan",
    "NaN cm",
    "inf",
    "-inf",
    "-5",
    "-0",
    "0",
    "1",
    "4",
    "1e400",
    "1e9",
    "0x10",
    "9" * 400,
    "9" * 5000,
    "1_000",
    "٤",
    "²",
    "½",
    "56 g",
    "56cm",
    "22 1/2 in",
    "3 miles",
    "a" * 300,
    "a/" * 2500,
    "\n",
    "\t",
    "\x1b[2J",
    "mütze",
    "\udcff",
    "\u202e",
    "-",
    "--",
    "%s",
    "{self}",
    "'",
    "/dev/zero",
    "/dev/null",
    "/proc/self/mem",
    "/proc/nowhere",
    "hat 1",
    "x+y",
    "20 stitches 11cm",
    "brimmed hat",
    "mat",
    "CON",
    "..",
)
"""Nothing here can name a folder outside the one it is tried in, but for those that take no file.

No zero byte: execve(2) ends an argument there.
"""


def _subparsers(of: argparse.ArgumentParser) -> dict[str, argparse.ArgumentParser]:
    for action in of._actions:
        if isinstance(action, argparse._SubParsersAction):
            return dict(action.choices)
    return {}


COMMANDS = tuple(_subparsers(parser()))


def made_up(command: str, rng: random.Random) -> list[str]:
    """One command line of that command."""
    return [command, *_words(_subparsers(parser())[command], rng), *_kept_short(command, rng)]


def _words(of: argparse.ArgumentParser, rng: random.Random) -> Iterator[str]:
    options = [action for action in of._actions if action.option_strings and action.dest != "help"]
    for action in rng.sample(options, rng.randint(0, min(4, len(options)))):
        name = rng.choice(action.option_strings)
        yield name if action.nargs == 0 else f"{name}={_value(action, rng)}"
    for action in of._actions:
        if action.option_strings:
            continue
        if isinstance(action, argparse._SubParsersAction):
            name = rng.choice([*action.choices, rng.choice(ODD)])
            yield name
            if name in action.choices:
                yield from _words(action.choices[name], rng)
        else:
            for _ in range(rng.randint(0 if rng.random() < 0.2 else 1, 2)):
                yield _value(action, rng)


def _value(action: argparse.Action, rng: random.Random) -> str:
    if action.choices and rng.random() < 0.7:
        return str(rng.choice(list(action.choices)))
    return rng.choice(ODD)


def _kept_short(command: str, rng: random.Random) -> list[str]:
    """What keeps a command from minutes of speech, or from the microphone."""
    if command == "rehearse":
        return [f"--scenario={rng.choice(ODD)}"]
    if command == "check":
        return [f"--seconds={rng.choice(['nan', 'inf', '-5', '', '1e400'])}"]
    return ["--typed"] if command == "call" else []


@dataclass(frozen=True)
class Ended:
    """How a command ended."""

    code: object
    out: str
    err: str

    @property
    def fallen(self) -> str | None:
        """Why it counts as fallen; None where it ended in good order."""
        if self.code not in {0, 1, 2}:
            return f"ended with {self.code}"
        if "Traceback" in self.err:
            return "a traceback"
        if self.code and not self.err.strip():
            return "no sentence"
        return None


@contextmanager
def _typed(words: bytes) -> Iterator[None]:
    with io.TextIOWrapper(TemporaryFile()) as typed:
        typed.buffer.write(words)
        typed.seek(0)
        before, sys.stdin = sys.stdin, typed
        try:
            yield
        finally:
            sys.stdin = before


def ended(argv: list[str], typed: bytes = b"next\nagain\n") -> Ended:
    """The command run in this process."""
    raw = io.BytesIO(), io.BytesIO()
    out, err = (io.TextIOWrapper(one, "utf-8", "backslashreplace") for one in raw)
    with _typed(typed), redirect_stdout(out), redirect_stderr(err):
        try:
            code: object = app.main(argv)
        except SystemExit as end:
            code = end.code
    out.flush()
    err.flush()
    return Ended(code, *(one.getvalue().decode() for one in raw))


def own_place(place: Path) -> dict[str, str]:
    """Variables that keep what a command writes in that folder."""
    return {
        "XDG_DATA_HOME": str(place / "data"),
        "XDG_STATE_HOME": str(place / "state"),
        "HOME": str(place),
    }
