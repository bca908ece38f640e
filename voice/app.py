"""The command line: one module a command, each with `add_arguments` and `run`."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from typing import NoReturn

from pattern.errors import RoundsAloudError
from voice import (
    call_command,
    check_command,
    hear_command,
    models_command,
    pieces_command,
    plan_command,
    rehearse_command,
    shapes_command,
    sizes_command,
    writeup_command,
)
from voice.published import SOUND, this_machine, without_sound

DESCRIPTION = "Plans a crocheted hat, or another round piece, and calls every round aloud."
COMMANDS = (
    ("plan", "print the plan of a hat", plan_command),
    ("call", "begin a hat, or go on with one", call_command),
    ("shapes", "what can be made, and how to describe another shape", shapes_command),
    ("sizes", "how big heads are at an age", sizes_command),
    ("pieces", "what is kept, and how far each is", pieces_command),
    ("writeup", "the pattern of a piece as it was made", writeup_command),
    ("rehearse", "a scripted maker speaks, and the program hears and answers", rehearse_command),
    ("hear", "what each sound file would do", hear_command),
    ("check", "what works on this machine, and what to do about the rest", check_command),
    ("models", "list, fetch and check speech models", models_command),
)


class _Parser(argparse.ArgumentParser):
    """Tells what is wrong in one sentence, without all the options before it."""

    def error(self, message: str) -> NoReturn:
        self.exit(2, f"{self.prog}: {message}; {self.prog} --help tells the options.\n")


def main(argv: Sequence[str] | None = None) -> int:
    """Runs one command.

    Returns 0, or 1 after one sentence about what went wrong; bad options end with 2.
    """
    parser = _Parser(prog="rounds-aloud", description=DESCRIPTION)
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for name, help_, module in COMMANDS:
        command = commands.add_parser(name, help=help_, description=f"{help_.capitalize()}.")
        module.add_arguments(command)
        command.set_defaults(run=module.run)
    args = parser.parse_args(argv)
    try:
        status: int = args.run(args)
        sys.stdout.flush()
        return status
    except RoundsAloudError as refused:
        print(refused, file=sys.stderr)
        return 1
    except ModuleNotFoundError as lacks:
        if lacks.name != SOUND:
            raise
        print(without_sound(this_machine()), file=sys.stderr)
        return 1
    except BrokenPipeError:  # whoever read us went away; all that was said is kept
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
    except KeyboardInterrupt:
        print("\nStopped; everything said so far is kept.", file=sys.stderr)
        return 130
