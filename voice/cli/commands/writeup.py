"""The command `rounds-aloud writeup`, which prints the pattern of a piece as made so far."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from voice.caller import piece_folder
from voice.cli.standard_streams import print_whole
from voice.inputs.written_file import write_file

if TYPE_CHECKING:
    from pattern.session.state import State

FORMATS = ("text", "html", "json", "brf")
BRAILLE = ("contracted", "uncontracted", "us-contracted", "us-uncontracted")


def add_arguments(parser: ArgumentParser) -> None:
    """Put the command's arguments on its parser."""
    parser.add_argument("name", metavar="NAME", help="which piece")
    parser.add_argument("--format", choices=FORMATS, default="text", help="text unless said")
    parser.add_argument(
        "--braille",
        choices=BRAILLE,
        default="contracted",
        help="for brf: unified English contracted unless said",
    )
    parser.add_argument("--large-print", action="store_true", help="for html: 18 pt and up")
    parser.add_argument(
        "--with-readings", action="store_true", help="with how the gauge was learned"
    )
    parser.add_argument(
        "--as-worked", action="store_true", help="with slips as made, and with your notes"
    )
    parser.add_argument("--out", type=Path, metavar="FILE", help="where to; printed unless said")
    piece_folder.add_argument(parser)


def run(args: Namespace) -> int:
    """Print the write-up, or write it to a file; returns 0."""
    state = piece_folder.state_of(piece_folder.kept_in(args.folder), args.name)
    text = written(state, args)
    if args.out is None:
        print_whole(text)
        return 0
    write_file(args.out, text.encode())
    return 0


def written(state: State, args: Namespace) -> str:
    """The write-up as the arguments ask for it. Raises: NoBraille for brf without liblouis."""
    from pattern.writeup.document import as_json
    from pattern.writeup.drawing import LARGE, REGULAR
    from pattern.writeup.edition import Edition
    from pattern.writeup.plain_text import as_text
    from pattern.writeup.writeup import as_made

    letters = LARGE if args.large_print else REGULAR
    edition = Edition(letters, readings=args.with_readings, as_worked=args.as_worked)
    document = as_made(state, args.name, edition)
    match args.format:
        case "json":
            return as_json(document) + "\n"
        case "html":
            from pattern.writeup.html import as_html

            return as_html(document, letters)
        case "brf":
            from voice.cli.braille import Braille, as_brf

            return as_brf(document, Braille[args.braille.upper().replace("-", "_")])
    return as_text(document)
