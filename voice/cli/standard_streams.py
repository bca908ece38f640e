"""Standard input, output and error, whatever the program was started with."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from io import BufferedWriter, RawIOBase, TextIOWrapper
from typing import Any, TextIO


class _Watched(RawIOBase):
    """Hands on what is written, and remembers why that failed, whoever caught it."""

    def __init__(self, stream: TextIOWrapper) -> None:
        self._stream = stream  # which would close when it is forgotten
        whole = stream.buffer
        self._raw = whole.raw if isinstance(whole, BufferedWriter) else whole
        self.fault: OSError | None = None

    def writable(self) -> bool:
        return True

    def fileno(self) -> int:
        return self._raw.fileno()

    def isatty(self) -> bool:
        return self._raw.isatty()

    def write(self, data: Any) -> int | None:  # noqa: ANN401 - any buffer, as its parent
        try:
            written: Any = self._raw.write(data)
        except OSError as fault:
            self.fault = fault
            raise
        return int(written) if written else None  # where it would have to wait


def make_ready() -> None:
    """See that all three are there, can write any sign, and remember why they could not write.

    One that is closed is put in place, as its number would otherwise go to the next file that is
    opened, a journal perhaps, and what is printed would go into it. Input and output fail when they
    are used; what goes to a closed error output is not wanted.
    """
    for number, name in enumerate(("stdin", "stdout", "stderr")):
        try:
            os.fstat(number)
        except OSError:
            way = os.O_RDONLY if name == "stdout" else os.O_WRONLY
            taken = os.open(os.devnull, way)  # the lowest number that is free
            os.set_inheritable(taken, True)
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
    """Whether whoever read standard output went away."""
    return isinstance(_fault(sys.stdout), BrokenPipeError)


def unwritable() -> str | None:
    """Why standard output or error took nothing, in one sentence; None where they did."""
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
    """Say it on standard error; where that is closed or full, nobody is there to be told."""
    with suppress(OSError):
        print(sentence, file=sys.stderr, flush=True)


def finish() -> None:
    """Write what is left, or forget what cannot be written, so that nothing can fail after this."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except OSError:
            with suppress(OSError):
                nowhere = os.open(os.devnull, os.O_WRONLY)
                os.dup2(nowhere, stream.fileno())
                os.close(nowhere)
