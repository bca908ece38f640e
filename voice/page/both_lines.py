"""Lines that are typed in the terminal or on the page, in the order in which they come."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from queue import Full, Queue
from typing import BinaryIO

from voice.caller.typed import InputLost, lines

_MOST = 64
"""Lines from the page that may wait; more are refused."""


class BothLines:
    """Lines of a stream and of a page; they end where the stream ends."""

    def __init__(self, stream: BinaryIO) -> None:
        """The stream is read by a thread of its own, which ends with it or with the program."""
        self._stream = stream
        self._lines: Queue[bytes | InputLost | None] = Queue(_MOST)

    def hear(self, words: bytes) -> bool:
        """Take a line from the page; False where too many wait already."""
        try:
            self._lines.put_nowait(words)
        except Full:
            return False
        return True

    def __iter__(self) -> Iterator[bytes]:
        """The lines. Raises: InputLost."""
        threading.Thread(target=self._read, name="typed lines", daemon=True).start()
        while (line := self._lines.get()) is not None:
            if isinstance(line, InputLost):
                raise line
            yield line

    def _read(self) -> None:
        try:
            for line in lines(self._stream):
                self._lines.put(line)
        except InputLost as lost:
            self._lines.put(lost)
        else:
            self._lines.put(None)
