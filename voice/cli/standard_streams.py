"""Makes standard input, output and error usable, however the program was started."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from io import BufferedWriter, RawIOBase, TextIOWrapper
from typing import Any, TextIO


class _Watched(RawIOBase):
    """Passes on output, and records write errors, even if a caller catches them."""

    def __init__(self, stream: TextIOWrapper) -> None:
        self._stream = stream  # which would close if it were garbage-collected
        whole = stream.buffer
        self._raw = whole.raw if isinstance(whole, BufferedWriter) else whole
        self.fault: OSError | None = None

    def writable(self) -> bool:
        return True

    def fileno(self) -> int:
        return self._raw.fileno()

    def isatty(self) -> bool:
        return self._raw.isatty()

    def write(self, data: Any) -> int | None:  # noqa: ANN401 - any buffer, as in the base class
        try:
            written: Any = self._raw.write(data)
        except OSError as fault:
            self.fault = fault
            raise
        return int(written) if written else None  # None if it would block


def make_ready() -> None:
    """Make all three streams exist, write any character, and record write errors.

    A closed stream is replaced. Otherwise its file descriptor would go to the next opened file,
    perhaps a journal, and output would be written into that. A replaced input or output fails when
    it is used; output to a closed standard error is discarded.
    """
    for number, name in enumerate(("stdin", "stdout", "stderr")):
        try:
            os.fstat(number)
        except OSError:
            way = os.O_RDONLY if name == "stdout" else os.O_WRONLY
            taken = os.open(os.devnull, way)  # takes the lowest free file descriptor
            os.set_inheritable(taken, True)  # noqa: FBT003 - positional only
        if getattr(sys, name) is None:
            mode = "r" if name == "stdin" else "w"
            stream = open(number, mode, encoding="utf-8", closefd=False)  # noqa: SIM115
            setattr(sys, name, stream)
    for name in ("stdout", "stderr"):
        stream = getattr(sys, name)
        if isinstance(stream, TextIOWrapper):
            setattr(
                sys,
                name,
                TextIOWrapper(
                    BufferedWriter(_Watched(stream)),
                    stream.encoding,
                    "backslashreplace",
                    line_buffering=stream.line_buffering or name == "stderr",
                ),
            )


def _fault(stream: TextIO) -> OSError | None:
    raw = getattr(getattr(stream, "buffer", None), "raw", None)
    return raw.fault if isinstance(raw, _Watched) else None


def left_by_reader() -> bool:
    """Whether the reader of standard output has closed it."""
    return isinstance(_fault(sys.stdout), BrokenPipeError)


def unwritable() -> str | None:
    """Why standard output or error could not be written, in one sentence; None if they could."""
    for stream, name in ((sys.stdout, "output"), (sys.stderr, "error")):
        if (fault := _fault(stream)) is not None:
            return (
                f"Standard {name} cannot be written ({fault.strerror}); send it to where "
                "there is room. Everything said so far is kept."
            )
    return None


def print_whole(text: str) -> None:
    """To standard output in UTF-8 whatever the terminal's own code, line ends as they are."""
    sys.stdout.flush()
    sys.stdout.buffer.write(text.encode(errors="replace"))
    sys.stdout.buffer.flush()


def tell(sentence: str) -> None:
    """Print a sentence on standard error; if that is closed or full, nothing can be done."""
    with suppress(OSError):
        print(sentence, file=sys.stderr, flush=True)


def finish() -> None:
    """Flush the output, or drop it if it cannot be written, so that nothing fails after this."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except OSError:
            with suppress(OSError):
                nowhere = os.open(os.devnull, os.O_WRONLY)
                os.dup2(nowhere, stream.fileno())
                os.close(nowhere)
