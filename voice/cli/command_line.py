"""The command line: one module a command, each with `add_arguments` and `run`."""

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
"""Of what is wrong with the options, which may quote them; our choice."""


class _Parser(argparse.ArgumentParser):
    """Tells what is wrong in one sentence, without all the options before it."""

    def _print_message(self, message: str, file: SupportsWrite[str] | None = None) -> None:
        """Unlike its parent it does not keep to itself that nothing was written."""
        if message:
            stream = file or sys.stderr
            stream.write(message)
            if isinstance(stream, IOBase):
                stream.flush()

    def _get_values(self, action: argparse.Action, arg_strings: list[str]) -> Any:  # noqa: ANN401
        """Unlike its parent before Python 3.13 it makes no empty list of `--option=--`."""
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
    """Runs one command, and returns when all it said is written. Bad options end with 2."""
    args = parser().parse_args(argv)
    status: int = args.run(args)
    sys.stdout.flush()
    return status
