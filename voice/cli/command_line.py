"""The command line; each command is a module with `add_arguments` and `run`."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from io import IOBase
from typing import TYPE_CHECKING, Any, NoReturn

from voice.cli.commands import (
    call,
    check,
    hear,
    manual,
    models,
    pieces,
    plan,
    rehearse,
    shapes,
    sizes,
    writeup,
)
from voice.inputs.one_line import plain

if TYPE_CHECKING:
    from _typeshed import SupportsWrite

DESCRIPTION = "Plans a crocheted hat, or another round piece, and calls every round aloud."
COMMANDS = (
    ("plan", "print the plan of a hat", plan),
    ("call", "begin a hat, or go on with one", call),
    ("shapes", "what can be made, and how to describe another shape", shapes),
    ("sizes", "how big heads are at an age", sizes),
    ("pieces", "what is kept, and how far each is", pieces),
    ("writeup", "the pattern of a piece as it was made", writeup),
    ("rehearse", "a scripted maker speaks, and the program hears and answers", rehearse),
    ("hear", "what each sound file would do", hear),
    ("check", "what works on this machine, and what to do about the rest", check),
    ("models", "list, fetch and check speech models", models),
    ("manual", "how everything works, by topic", manual),
)
LONGEST_REFUSAL_CHARACTERS = 400
"""Longest error message about options, which may quote them; our choice."""


class _Parser(argparse.ArgumentParser):
    """A parser that reports errors in one sentence, without listing all options."""

    def _print_message(self, message: str, file: SupportsWrite[str] | None = None) -> None:
        """Print a message; unlike the base class, it does not hide write errors."""
        if message:
            stream = file or sys.stderr
            stream.write(message)
            if isinstance(stream, IOBase):
                stream.flush()

    def _get_values(self, action: argparse.Action, arg_strings: list[str]) -> Any:  # noqa: ANN401
        """Values of an action; unlike before Python 3.13, `--option=--` gives no empty list."""
        if action.option_strings and action.nargs is None and arg_strings == ["--"]:
            raise argparse.ArgumentError(action, "expected one argument")
        return super()._get_values(action, arg_strings)

    def error(self, message: str) -> NoReturn:
        told = plain(message)
        if len(told) > LONGEST_REFUSAL_CHARACTERS:
            told = f"{told[:LONGEST_REFUSAL_CHARACTERS]}..."
        self.exit(2, f"{self.prog}: {told}; {self.prog} --help tells the options.\n")


def parser() -> argparse.ArgumentParser:
    """All commands with their options."""
    whole = _Parser(prog="rounds-aloud", description=DESCRIPTION)
    commands = whole.add_subparsers(required=True, metavar="COMMAND")
    for name, help_, module in COMMANDS:
        command = commands.add_parser(name, help=help_, description=f"{help_.capitalize()}.")
        module.add_arguments(command)
        command.set_defaults(run=module.run)
    return whole


def run(argv: Sequence[str] | None) -> int:
    """Run one command, and return once its output is written. Bad options end with 2."""
    args = parser().parse_args(argv)
    status: int = args.run(args)
    sys.stdout.flush()
    return status
