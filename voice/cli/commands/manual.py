"""The command `rounds-aloud manual`: how everything works, by topic."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from pathlib import Path

from voice.inputs.one_line import shown

FORMATS = ("text", "html")


def add_arguments(parser: ArgumentParser) -> None:
    """Put the command's arguments on its parser."""
    parser.add_argument(
        "topic", nargs="?", metavar="TOPIC", help="what about; without it the topics are listed"
    )
    parser.add_argument(
        "--format",
        choices=FORMATS,
        default="text",
        help="html: one page in large print, of all topics unless one is named (default: text)",
    )
    parser.add_argument(
        "--out", type=Path, metavar="FILE", help="where to write it (default: printed)"
    )


def run(args: Namespace) -> int:
    """Prints or writes it; 1 after a sentence when there is no such topic."""
    from voice.cli import manual_pages
    from voice.cli.standard_streams import print_whole
    from voice.inputs.written_file import write_file

    chosen = manual_pages.pages()
    if args.topic is not None:
        page = manual_pages.page_of(args.topic)
        if page is None:
            topics = ", ".join(manual_pages.ORDER)
            print(
                f"The manual has no topic {shown(args.topic)!r}; name one of {topics}.",
                file=sys.stderr,
            )
            return 1
        chosen = (page,)
    if args.format == "html":
        text = manual_pages.as_html(chosen)
    elif args.topic is None:
        text = "".join(f"{page.topic}: {page.title}\n" for page in chosen)
    else:
        text = chosen[0].text
    if args.out is None:
        print_whole(text)
    else:
        write_file(args.out, text.encode())
    return 0
