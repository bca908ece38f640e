"""Ctrl-C: the first ends the program in good order, further ones do not disturb that."""

from __future__ import annotations

import os
import signal
import time

PATIENCE_S = 3.0
"""So long the program may take to end; who asks again after that is not kept waiting."""


class Interrupts:
    """While its block runs SIGINT is taken here, and after it not at all."""

    def __init__(self) -> None:
        """Not taken yet."""
        self._first_s: float | None = None

    def __enter__(self) -> None:
        """Take it from here on."""
        if signal.getsignal(signal.SIGINT) is not signal.SIG_IGN:  # as in the background
            signal.signal(signal.SIGINT, self._take)

    def __exit__(self, *_: object) -> None:
        """Nothing is left to be stopped; Python would let one end the process at its very end."""
        signal.signal(signal.SIGINT, signal.SIG_IGN)

    def came(self) -> bool:
        """Whether there was one."""
        return self._first_s is not None

    def _take(self, *_: object) -> None:
        now_s = time.monotonic()
        if self._first_s is None:
            self._first_s = now_s
            raise KeyboardInterrupt
        if now_s - self._first_s > PATIENCE_S:
            os._exit(130)  # each turn is on the disk already
