"""Handles Ctrl-C: the first one ends the program in good order, and later ones do not interfere."""

from __future__ import annotations

import os
import signal
import time

PATIENCE_S = 3.0
"""Time allowed for a clean end; another Ctrl-C after that ends the program at once."""


class Interrupts:
    """Handles SIGINT during its block, and ignores it afterwards."""

    def __init__(self) -> None:
        """Do not handle SIGINT yet."""
        self._first_s: float | None = None

    def __enter__(self) -> None:
        """Handle SIGINT from here on."""
        if signal.getsignal(signal.SIGINT) is not signal.SIG_IGN:  # ignored in a background process
            signal.signal(signal.SIGINT, self._take)

    def __exit__(self, *_: object) -> None:
        """Ignore SIGINT, which could otherwise still interrupt Python's shutdown."""
        signal.signal(signal.SIGINT, signal.SIG_IGN)

    def came(self) -> bool:
        """Whether an interrupt came."""
        return self._first_s is not None

    def _take(self, *_: object) -> None:
        now_s = time.monotonic()
        if self._first_s is None:
            self._first_s = now_s
            raise KeyboardInterrupt
        if now_s - self._first_s > PATIENCE_S:
            os._exit(130)  # each turn is on disk already
