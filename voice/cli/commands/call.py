"""The command `rounds-aloud call`, which begins a piece or continues one."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from pattern.errors import RoundsAloudError
from voice.caller import piece_folder, unheard
from voice.cli import (
    device_options,
    engines,
    option_answers,
    options,
    page_options,
    spoken_options,
    typed_call,
)

if TYPE_CHECKING:
    from pattern.journal.journal import Journal
    from pattern.session.commands import Command
    from pattern.session.events import Event
    from pattern.session.folding import Turn
    from voice.caller.caller import Caller
    from voice.caller.reply import Reply


def add_arguments(parser: ArgumentParser) -> None:
    """Put the command's arguments on its parser."""
    parser.add_argument("--typed", action="store_true", help="take typed words")
    parser.add_argument("--json", action="store_true", help="write one JSON object a reply")
    parser.add_argument(
        "--piece",
        metavar="NAME",
        help="which piece to begin or go on with (default: the last unfinished one,"
        " or a new one when options of the hat are given)",
    )
    parser.add_argument(
        "--no-tape",
        action="store_true",
        help="ask for no tape, but to try it on; the same as to say: I have no tape",
    )
    parser.add_argument(
        "--like",
        metavar="NAME",
        help="begin a new piece with the gauge learned on that one, and with its "
        "yarn, hook and stitch unless others are given; it speaks as it did"
        " there",
    )
    piece_folder.add_argument(parser)
    parser.add_argument(
        "--unheard",
        choices=["kept", "none"],
        default="kept",
        help="whether words that are not understood are kept beside the piece, for you alone"
        " (see `rounds-aloud pieces --unheard`)",
    )
    page_options.add_arguments(parser)
    spoken_options.add_arguments(parser)
    device_options.add_arguments(parser)
    engines.add_arguments(parser)
    options.add_arguments(parser)


def run(args: Namespace) -> int:
    """Call the piece; returns 2, after a sentence, if an option makes no sense."""
    from pattern.journal.journal import Journal
    from pattern.session.history import CODEC
    from pattern.session.refusals import Refused
    from voice.caller.caller import Caller

    if len(args.head or ()) > 1:
        print("A call makes one piece: give one --head; plan takes several.", file=sys.stderr)
        return 2
    where, answers = piece_folder.kept_in(args.folder), option_answers.answers(args)
    new = bool(answers or args.like)
    name = args.piece or _usual_name(where, new=new)
    carried = _carried(args, where, name, answers)
    with ExitStack() as opened:
        journal = opened.enter_context(Journal.open(where, name, CODEC))
        caller = Caller(
            journal,
            new_piece=lambda: opened.enter_context(
                Journal.open(where, piece_folder.new_name(where), CODEC)
            ),
            keeps_unheard=args.unheard == "kept",
        )
        resumed = bool(journal.turns)
        try:
            opening = _without_tape(caller, caller.open(answers, carried), args)
        except Refused as refused:
            return options.refuse(refused)
        if resumed and new and not args.json:
            print(
                f"{name} has begun already: it goes on as it is, without the new options.",
                file=sys.stderr,
            )
        with _withdrawn_unless_begun(journal, answered=new):
            _converse(caller, opening, args, name)
    return 0


def _without_tape(caller: Caller, opening: Reply, args: Namespace) -> Reply:
    """The first words, where there is no tape: nothing is asked for that needs one."""
    from pattern.session.commands import TapeThere

    if not args.no_tape or not caller.state.means.tape:
        return opening
    taken = caller.take(TapeThere(there=False))
    return replace(taken, say=f"{opening.say} {taken.say}")


def _carried(args: Namespace, where: Path, name: str, answers: Sequence[Command]) -> Turn:
    """Events that carry over the piece which a new one is like; none without such a piece."""
    from pattern.journal.kept import is_kept
    from pattern.session import next_piece

    if not args.like or (args.piece and is_kept(where, name)):
        return ()
    return next_piece.carried(piece_folder.state_of(where, args.like), args.like, answers)


def _usual_name(where: Path, *, new: bool) -> str:
    """Name of the last unfinished piece, or a new name."""
    return (not new and piece_folder.unfinished(where)) or piece_folder.new_name(where)


@contextmanager
def _withdrawn_unless_begun(journal: Journal[Event], *, answered: bool) -> Iterator[None]:
    """Remove a new piece if the call fails to start, or nothing was said in it."""
    try:
        yield
    except RoundsAloudError:
        answered = False
        raise
    finally:
        if len(journal.turns) <= 1 and not answered:
            journal.withdraw()
            unheard.file_of(journal.path).unlink(missing_ok=True)


def _converse(caller: Caller, opening: Reply, args: Namespace, name: str) -> None:
    if not args.json:
        print(f"The piece is called {name}.", flush=True)
    if args.json or args.typed or not _by_voice(caller, opening, args):
        typed_call.converse(caller, opening, args)


def _by_voice(caller: Caller, opening: Reply, args: Namespace) -> bool:
    """Call by voice; if that is not possible, print the reason and return False."""
    from voice.cli.voice_call import converse
    from voice.models.model_errors import ModelError
    from voice.recognisers.engine import BadGrammar, EngineMissing
    from voice.sentences.hearing import TYPING
    from voice.sound.sound_errors import SoundUnavailableError
    from voice.speech.delivery import DeliveryRefusedError

    try:
        page = partial(page_options.page_of, args, None)
        converse(caller, opening, spoken_options.settings(args), page)
    except (
        SoundUnavailableError,
        EngineMissing,
        BadGrammar,
        ModelError,
        DeliveryRefusedError,
    ) as refused:
        print(f"{refused} {TYPING}", flush=True)
        return False
    return True
