"""The command `rounds-aloud sizes`, which prints head sizes by age."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace


def add_arguments(parser: ArgumentParser) -> None:
    """Put the command's arguments on its parser."""
    parser.add_argument("--unit", choices=["in", "cm"], default="cm", help="for the lengths")
    parser.add_argument("--json", action="store_true", help="print it as data")


def run(args: Namespace) -> int:
    """Print the table."""
    from pattern.trade.lengths import Unit
    from pattern.writeup.document import as_json
    from pattern.writeup.plain_text import as_text
    from pattern.writeup.sizes_table import sizes_table

    document = sizes_table(Unit.INCH if args.unit == "in" else Unit.CM)
    print(as_json(document) if args.json else as_text(document), end="")
    return 0
