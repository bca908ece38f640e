"""The process that draws and serves the page, so that neither keeps the voice waiting.

Started by `voice.page.beside`. The first line on standard input is a `Wanted`, and the first answer
a `Had`; then come the lines of `voice.page.server`. However the parent ends, standard input ends,
and this process with it.
"""

from __future__ import annotations

import json
import signal
import socket
import sys
from dataclasses import asdict, dataclass

LOOPBACK = "127.0.0.1"
_WAITING = 256
"""Connections that may wait to be taken."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """The page that is to be served."""

    port: int
    """Any free one for 0, or where it is taken."""
    token: str
    quiet_s: float
    typed: bool


@dataclass(frozen=True, slots=True)
class Had:
    """The port that could be had."""

    port: int = 0
    taken: bool = False
    """Whether the port that was wanted was taken."""
    refused: str = ""
    """Why none could be had."""


def main() -> None:
    """Serve until standard input ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # meant for the call, which ends this
    wanted = Wanted(**json.loads(sys.stdin.buffer.readline()))
    try:
        listening, taken = bound(wanted.port)
    except OSError as refused:
        _answer(Had(refused=str(refused.strerror)))
        return
    port = listening.getsockname()[1]
    _answer(Had(port, taken))
    import asyncio

    from voice.page.application import Door
    from voice.page.server import PageServer, Parent

    door = Door(f"{LOOPBACK}:{port}", wanted.token)
    parent = Parent(sys.stdin.buffer, sys.stdout.buffer)
    asyncio.run(PageServer(door, parent, wanted.quiet_s, typed=wanted.typed).serve(listening))


def _answer(had: Had) -> None:
    sys.stdout.buffer.write(json.dumps(asdict(had)).encode() + b"\n")
    sys.stdout.buffer.flush()


def bound(port: int) -> tuple[socket.socket, bool]:
    """A socket that listens, and whether the port was taken. Raises: OSError."""
    found, taken = socket.socket(socket.AF_INET, socket.SOCK_STREAM), False
    try:
        found.bind((LOOPBACK, port))
    except OSError:
        if not port:
            found.close()
            raise
        taken = True
        found.bind((LOOPBACK, 0))
    found.listen(_WAITING)
    return found, taken


if __name__ == "__main__":
    main()
