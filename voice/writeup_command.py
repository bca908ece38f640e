"""The command `rounds-aloud writeup`: the pattern of a piece as it was really made so far."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from voice import folder

FORMATS = ("text", "json")


def add_arguments(parser: ArgumentParser) -> None:
    """Put the command's arguments on its parser."""
    parser.add_argument("name", metavar="NAME", help="which piece")
    parser.add_argument("--format", choices=FORMATS, default="text", help="text unless said")
    folder.add_argument(parser)


def run(args: Namespace) -> int:
    """Prints the write-up; 0."""
    from pattern.document import as_json, as_text
    from pattern.writeup import as_made

    where = folder.kept_in(args.folder)
    document = as_made(folder.state_of(where, args.name), args.name)
    print(as_json(document) if args.format == "json" else as_text(document), end="")
    return 0
