"""Typed words: lines of bytes that may be anything, each answered by exactly one reply."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import BinaryIO

from pattern.errors import RoundsAloudError
from voice.caller.caller import Caller
from voice.caller.reply import Reply

LONGEST_BYTES = 2000
"""A longer line is no utterance."""
EMPTY = "I heard nothing; say again to hear what is due."
NOT_TEXT = "Those bytes are no text in UTF-8; type the words again."
TOO_LONG = "That is too long for me; say one thing at a time."
CONTROL = "There are control characters in that; type the words again."


@dataclass(eq=False)
class InputLost(RoundsAloudError):  # noqa: N818 - it reads as what happened
    """Typed words cannot be read any more."""

    why: str

    says = (
        "Nothing can be read from standard input ({self.why}); begin again where you can type, "
        "all that was answered is kept."
    )


def lines(stream: BinaryIO) -> Iterator[bytes]:
    """Lines without their ends, none longer than needed to see that it is too long.

    Raises: InputLost.
    """
    while line := _read(stream, LONGEST_BYTES + 2):
        whole = line.endswith(b"\n")
        while not whole and (rest := _read(stream, LONGEST_BYTES)):
            whole = rest.endswith(b"\n")
        yield line.rstrip(b"\r\n")


def _read(stream: BinaryIO, most_bytes: int) -> bytes:
    try:
        return stream.readline(most_bytes)
    except OSError as fault:
        raise InputLost(fault.strerror or str(fault)) from fault


def problem(line: bytes) -> str | None:
    """Why a line cannot be words; None when it can."""
    if not line.strip():
        return EMPTY
    if len(line) > LONGEST_BYTES:
        return TOO_LONG
    try:
        text = line.decode()
    except UnicodeDecodeError:
        return NOT_TEXT
    return None if text.strip().replace("\t", " ").isprintable() else CONTROL


def answer(caller: Caller, line: bytes, lead: str = "") -> Reply:
    """The one reply to a line; the attention words `lead` may stand before what is said."""
    if (why := problem(line)) is not None:
        return Reply(why, caller.state, unheard=True)
    if not (words := _after(lead.split(), line.decode())):
        return Reply(EMPTY, caller.state, unheard=True)
    return caller.hear(words)


def _after(lead: list[str], text: str) -> str:
    start = r"\W+".join(map(re.escape, lead))
    if not lead:
        return text
    return re.sub(rf"\A\W*{start}(\W+(?=\w)|\W*\Z)", "", text, flags=re.IGNORECASE)


def converse(
    caller: Caller,
    opening: Reply,
    stream: BinaryIO,
    show: Callable[[Reply], None],
    lead: str = "",
    *,
    ends_done: bool = False,
) -> None:
    """Answers lines until the maker leaves or the stream ends; with `ends_done` only until the
    piece becomes done.
    """
    converse_in(caller, opening, lines(stream), show, lead, ends_done=ends_done)


def converse_in(
    caller: Caller,
    opening: Reply,
    said_lines: Iterable[bytes],
    show: Callable[[Reply], None],
    lead: str = "",
    *,
    ends_done: bool = False,
) -> None:
    """The same with lines from anywhere. Raises: what their source raises."""
    show(opening)
    for line in said_lines:
        said = answer(caller, line, lead)
        show(said)
        if said.ends or (ends_done and said.finished):
            return
