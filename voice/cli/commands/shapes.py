"""The command `rounds-aloud shapes`, which lists the shapes or prints one as a description."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace

from voice.inputs.one_line import shown


def add_arguments(parser: ArgumentParser) -> None:
    """Put the command's arguments on its parser."""
    parser.add_argument(
        "name", nargs="?", metavar="NAME", help="print this shape as TOML, to begin your own from"
    )


def run(args: Namespace) -> int:
    """List the shapes, or print one; returns 1, after a sentence, for an unknown name."""
    from pattern.shape.catalogue import SHAPES, shape_called
    from pattern.shape.shape_text import as_text

    if args.name is None:
        for shape in SHAPES:
            print(f"{shape.name}: {', '.join(part.called for part in shape.parts)}")
        return 0
    shape_or_none = shape_called(args.name)
    if shape_or_none is None:
        names = ", ".join(shape.name for shape in SHAPES)
        print(f"There is no shape {shown(args.name)!r}; name one of {names}.", file=sys.stderr)
        return 1
    print(
        "# Save under a name of your own, change it, and make it with --shape FILE.\n"
        "# girth: around at its end, times the head (or width), or a length; length: such as\n"
        '# "4 cm", or depth, height, brim, which you are asked for; slope: degrees below level.\n'
    )
    print(as_text(shape_or_none), end="")
    return 0
