"""Readers of a page beside a call, in a process of their own, as browsers are.

`python -m tests.bench.page_readers ADDRESS READERS [odd]`: with `odd`, the last but one reads a
little at a time, and the last never reads. When its input ends, it prints how many times each of
the others was given something.
"""

from __future__ import annotations

import json
import selectors
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from urllib.parse import urlsplit

_LITTLE, _EVERY_S = 512, 0.1
"""Bytes that the slow one reads at a time, and how often."""
_GIVEN = b"\ndata: "


@contextmanager
def readers(address: str, count: int, *, odd: bool = False) -> Iterator[list[int]]:
    """So many readers; the list has how often each was given something, once they are gone."""
    words = [sys.executable, "-m", "tests.bench.page_readers", address, str(count)]
    given: list[int] = []
    with subprocess.Popen(
        [*words, "odd"] if odd else words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as process:
        assert process.stdout is not None
        if process.stdout.readline() != "reading\n":
            raise RuntimeError("the readers did not get in")
        yield given
        given += json.loads(process.communicate()[0])


def _asked(address: str, window: int | None = None) -> socket.socket:
    """A connection that has asked for the news; about `window` bytes may wait in it."""
    found = urlsplit(address)
    made = socket.socket()
    if window is not None:
        made.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, window)
    made.connect((found.hostname, found.port))
    made.sendall(f"GET {found.path}news HTTP/1.1\r\nHost: {found.netloc}\r\n\r\n".encode())
    return made


def _let_in(made: socket.socket) -> socket.socket:
    if not made.recv(1 << 16).startswith(b"HTTP/1.1 200 "):
        raise RuntimeError("a reader was not let in")
    return made


def _read_slowly(slow: socket.socket) -> None:
    while slow.recv(_LITTLE):
        time.sleep(_EVERY_S)


def _read(usual: list[socket.socket]) -> list[int]:
    """Read until the input ends; how often each was given something."""
    given, ends = dict.fromkeys(usual, 0), dict.fromkeys(usual, b"")
    with selectors.DefaultSelector() as waits:
        for one in (*usual, sys.stdin):
            waits.register(one, selectors.EVENT_READ)
        while True:
            for key, _ in waits.select():
                one = key.fileobj
                if not isinstance(one, socket.socket):
                    return list(given.values())
                got = one.recv(1 << 16)
                if not got:
                    raise RuntimeError("the page has ended")
                given[one] += (ends[one] + got).count(_GIVEN)
                ends[one] = (ends[one] + got)[1 - len(_GIVEN) :]


def _main(address: str, count: int, *, odd: bool) -> None:
    usual = [_let_in(_asked(address)) for _ in range(count - 2 * odd)]
    if odd:
        slow = _let_in(_asked(address, window=1024))
        threading.Thread(target=_read_slowly, args=(slow,), daemon=True).start()
        never = _let_in(_asked(address, window=1024))
    print("reading", flush=True)
    print(json.dumps(_read(usual)))
    if odd:
        never.close()


if __name__ == "__main__":
    _main(sys.argv[1], int(sys.argv[2]), odd="odd" in sys.argv[3:])
