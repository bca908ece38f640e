"""The options of the page beside the maker, and the page while a call lasts."""

from __future__ import annotations

import sys
import threading
import webbrowser
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from pattern.session.state import State

MISSING = (
    "The page needs two more packages: pip install 'rounds-aloud[page]'. The call goes on without."
)
LARGEST_PORT = 65535


class Shows(Protocol):
    """Shows what is said."""

    def show(self, text: str, state: State) -> None:
        """Show it; returns at once."""


def add_arguments(parser: ArgumentParser) -> None:
    """Put the options on a parser."""
    parser.add_argument(
        "--page",
        action="store_true",
        help="show what was said, the round and the piece on a page in your browser",
    )
    parser.add_argument(
        "--page-port",
        type=_port,
        default=0,
        metavar="N",
        help="the port of that page (any free one unless said)",
    )


def _port(text: str) -> int:
    """A port. Raises: ValueError for anything else."""
    number = int(text)
    if not 0 < number <= LARGEST_PORT:
        raise ValueError(f"{number} is no port")
    return number


@contextmanager
def page_of(args: Namespace, hear: Callable[[bytes], bool] | None) -> Iterator[Shows | None]:
    """The page while a call lasts, if it is wanted and can be had; says where it is."""
    if not args.page:
        yield None
        return
    try:
        from voice.page.beside import PageBeside

        beside = PageBeside(args.page_port, hear)
    except ImportError:
        _tell(MISSING)
        yield None
        return
    except OSError as refused:
        _tell(f"The page cannot be served ({refused.strerror}); the call goes on without.")
        yield None
        return
    with beside:
        taken = f"Port {args.page_port} is taken. " if beside.taken else ""
        opened = "" if _opened(beside.address) else ": open it in a browser"
        _tell(f"{taken}The page beside you is at {beside.address}{opened}")
        yield beside


def _opened(address: str) -> bool:
    """Whether a browser with a window was asked to open the page."""
    try:
        browser = webbrowser.get()
    except webbrowser.Error:
        return False
    if type(browser) is webbrowser.GenericBrowser:  # one for the terminal, which is in use
        return False
    threading.Thread(target=browser.open, args=(address,), name="browser", daemon=True).start()
    return True


def _tell(sentence: str) -> None:
    print(sentence, file=sys.stderr, flush=True)
