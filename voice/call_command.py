"""The command `rounds-aloud call`: begins a piece or goes on with one."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from voice import folder, options

if TYPE_CHECKING:
    from voice.caller import Reply


def add_arguments(parser: ArgumentParser) -> None:
    """Put the command's arguments on its parser."""
    parser.add_argument("--typed", action="store_true", help="take typed words")
    parser.add_argument("--json", action="store_true", help="write one JSON object a reply")
    parser.add_argument("--piece", metavar="NAME",
                        help="which piece to begin or go on with (default: the last unfinished one,"
                        " or a new one when options of the hat are given)")  # fmt: skip
    folder.add_argument(parser)
    options.add_arguments(parser)


def run(args: Namespace) -> int:
    """Calls the piece; 2 after a sentence when an option makes no sense."""
    from pattern.history import CODEC
    from pattern.journal import Journal
    from pattern.refusals import Refused
    from voice import typed
    from voice.caller import Caller

    where, answers = folder.kept_in(args.folder), options.answers(args)
    name = args.piece or (not answers and folder.unfinished(where)) or folder.new_name(where)
    with Journal.open(where, name, CODEC) as journal:
        caller = Caller(journal)
        resumed = bool(journal.turns)
        try:
            opening = caller.open(answers)
        except Refused as refused:
            return options.refuse(refused)
        if resumed and answers and not args.json:
            print(f"{name} has begun already: it goes on as it is, without the new options.",
                  file=sys.stderr)  # fmt: skip
        show = _shown_as_json if args.json else _shown
        if not args.json:
            print(f"The piece is called {name}.")
        typed.converse(caller, opening, sys.stdin.buffer, show)
    return 0


def _shown(reply: Reply) -> None:
    print(reply.say)
    if sys.stdin.isatty():
        print("> ", end="")
    sys.stdout.flush()


def _shown_as_json(reply: Reply) -> None:
    from voice.contract import as_json

    print(as_json(reply), flush=True)
