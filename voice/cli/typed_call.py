"""A call by typed words, with a page beside or without."""

from __future__ import annotations

import sys
from argparse import Namespace
from io import BufferedReader, FileIO
from typing import TYPE_CHECKING

from voice.cli import page_options

if TYPE_CHECKING:
    from voice.caller.caller import Caller
    from voice.caller.reply import Reply


def converse(caller: Caller, opening: Reply, args: Namespace) -> None:
    """Call by typed words, those of the page too."""
    from voice.caller import typed

    shown = _shown_as_json if args.json else _shown
    if not args.page:
        stream = sys.stdin.buffer
        typed.converse(caller, opening, stream, shown, args.attention, ends_done=args.json)
        return
    from voice.page.both_lines import BothLines

    def told(reply: Reply) -> None:
        shown(reply)
        if page is not None:
            page.show(reply.say, reply.state)

    # A reader of its own, never closed: a thread may still wait in it when the call is over.
    both = BothLines(BufferedReader(FileIO(sys.stdin.fileno(), closefd=False)))
    with page_options.page_of(args, both.hear) as page:
        typed.converse_in(caller, opening, both, told, args.attention, ends_done=args.json)


def _shown(reply: Reply) -> None:
    print(reply.say)
    if sys.stdin.isatty():
        print("> ", end="")
    sys.stdout.flush()


def _shown_as_json(reply: Reply) -> None:
    from voice.caller.json_reply import as_json

    print(as_json(reply), flush=True)
