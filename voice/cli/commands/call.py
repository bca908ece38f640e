"""The command `rounds-aloud call`: begins a piece or goes on with one."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from pattern.errors import RoundsAloudError
from pattern.session.commands import Signs
from pattern.session.commands.manner import FASTEST_WPM, SLOWEST_WPM
from pattern.session.decide_asides import LATEST_S
from voice.caller import piece_folder, unheard
from voice.cli import attention_options, device_options, engines, options
from voice.inputs.option_numbers import number, whole

if TYPE_CHECKING:
    from pattern.journal.journal import Journal
    from pattern.session.events import Event
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
    spoken = parser.add_argument_group("by voice")
    spoken.add_argument(
        "--headphones", action="store_true", help="you wear headphones, and may talk over it"
    )
    spoken.add_argument(
        "--rate",
        type=whole("rate", SLOWEST_WPM, FASTEST_WPM),
        metavar="WPM",
        help=f"words a minute, {SLOWEST_WPM} to {FASTEST_WPM} (default: as the"
        " piece remembers, at first 160)",
    )
    spoken.add_argument(
        "--remind",
        metavar="S",
        type=number("time in seconds", 1, LATEST_S, or_zero=True),
        help="ask once more for a reading after so many seconds; 0 for never"
        " (default: as the piece remembers, at first 90)",
    )
    spoken.add_argument(
        "--earcons",
        choices=[each.value for each in Signs],
        help="short signs as sounds, in words, or both (default: as the piece"
        " remembers, at first sounds)",
    )
    attention_options.add_arguments(spoken)
    spoken.add_argument(
        "--keep-audio",
        type=Path,
        metavar="DIR",
        help="keep what you say as WAV files there; nothing is kept otherwise",
    )
    device_options.add_arguments(parser)
    engines.add_arguments(parser)
    options.add_arguments(parser)


def run(args: Namespace) -> int:
    """Calls the piece; 2 after a sentence when an option makes no sense."""
    from pattern.journal.journal import Journal
    from pattern.journal.kept import is_kept
    from pattern.session import next_piece
    from pattern.session.folding import Turn
    from pattern.session.history import CODEC
    from pattern.session.refusals import Refused
    from voice.caller.caller import Caller

    if len(args.head or ()) > 1:
        print("A call makes one piece: give one --head; plan takes several.", file=sys.stderr)
        return 2
    where, answers = piece_folder.kept_in(args.folder), options.answers(args)
    new = bool(answers or args.like)
    name = (
        args.piece or (not new and piece_folder.unfinished(where)) or piece_folder.new_name(where)
    )
    carried: Turn = ()
    if args.like and not (args.piece and is_kept(where, name)):
        carried = next_piece.carried(piece_folder.state_of(where, args.like), args.like, answers)
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
            opening = caller.open(answers, carried)
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


@contextmanager
def _withdrawn_unless_begun(journal: Journal[Event], *, answered: bool) -> Iterator[None]:
    """Leave no new piece behind of a start that fails, or of a call in which nothing was said."""
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
    from voice.caller import typed

    if args.json:
        lines = sys.stdin.buffer
        typed.converse(caller, opening, lines, _shown_as_json, args.attention, ends_done=True)
        return
    print(f"The piece is called {name}.", flush=True)
    if args.typed or not _by_voice(caller, opening, args):
        typed.converse(caller, opening, sys.stdin.buffer, _shown, args.attention)


def _by_voice(caller: Caller, opening: Reply, args: Namespace) -> bool:
    """Whether the call went by voice; why it could not is printed, and then it is typed."""
    from voice.cli.voice_call import converse
    from voice.models.model_errors import ModelError
    from voice.recognisers.engine import BadGrammar, EngineMissing
    from voice.sentences.hearing import TYPING
    from voice.sound.devices import SoundUnavailableError
    from voice.speech.delivery import DeliveryRefusedError

    try:
        converse(caller, opening, args)
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


def _shown(reply: Reply) -> None:
    print(reply.say)
    if sys.stdin.isatty():
        print("> ", end="")
    sys.stdout.flush()


def _shown_as_json(reply: Reply) -> None:
    from voice.caller.json_reply import as_json

    print(as_json(reply), flush=True)
