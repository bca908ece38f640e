"""The command `rounds-aloud pieces`, which lists the pieces and their progress."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from pathlib import Path

from voice.caller import piece_folder
from voice.inputs.one_line import shown


def add_arguments(parser: ArgumentParser) -> None:
    """Put the command's arguments on its parser."""
    piece_folder.add_argument(parser)
    parser.add_argument(
        "--unheard", action="store_true", help="list the words that were not understood instead"
    )


def run(args: Namespace) -> int:
    """Print one line for each piece, or one sentence for a piece that cannot be read."""
    from pattern.journal.kept import pieces
    from pattern.session.history import CODEC

    where = piece_folder.kept_in(args.folder)
    if args.unheard:
        return _unheard(where)
    found = pieces(where, CODEC)
    for piece in found:
        print(f"{piece.name}: {piece.problem or _how_far(where, piece.name)}")
    if not found:
        print(f"Nothing is kept in {where} yet; begin with: rounds-aloud call")
    return 0


def _unheard(where: Path) -> int:
    """One line for words that were not understood, with their piece and place."""
    from voice.caller import unheard

    try:
        found = list(unheard.kept(where))
    except OSError as fault:
        print(f"{fault.filename} cannot be read ({fault.strerror}); allow that.", file=sys.stderr)
        return 1
    for name, words in found:
        place = f"round {words.round}, {words.stage}" if words.round else words.stage
        print(f"{name}: {place}: {shown(words.said)}")
    if not found:
        print(f"Nothing that was not understood is kept in {where}.")
    return 0


def _how_far(where: Path, name: str) -> str:
    from pattern.journal.journal_errors import JournalError
    from voice.sentences.places import where as place

    try:
        return place(piece_folder.state_of(where, name))
    except JournalError as problem:
        return str(problem)
