"""The newest content, for any number of readers; nobody waits for a slow one."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator

_APART_S = 0.001
"""Readers are woken so far apart: many of them at once would take a processor from the voice; our
choice."""


class Newest:
    """Holds the newest content only: a reader that was slow gets that, and not what it missed.

    For use in one event loop.
    """

    def __init__(self, quiet_s: float) -> None:
        """Nothing yet; a reader is sent a sign of life after `quiet_s`."""
        self.quiet_s = quiet_s
        self._content, self._number = "", 0
        self._over = False
        self._turns: list[asyncio.Event] = []
        self._changed = asyncio.Event()

    def put(self, content: str) -> None:
        """Replace the content; the readers are woken by `wake`."""
        self._content = content
        self._number += 1
        self._changed.set()

    def end(self) -> None:
        """Let every reader end, after the newest content."""
        self._over = True
        for turn in self._turns:
            turn.set()

    async def wake(self) -> None:
        """Wake the readers whenever there is something newer, one after another, without end."""
        while True:
            await self._changed.wait()
            self._changed.clear()
            for turn in tuple(self._turns):
                turn.set()
                await asyncio.sleep(_APART_S)

    async def read(self) -> AsyncIterator[str]:
        """The content now, and then the newest each time; empty for a sign of life."""
        seen, turn = 0, asyncio.Event()
        self._turns.append(turn)
        try:
            while seen < self._number or not self._over:
                if seen < self._number:
                    seen = self._number
                    yield self._content
                    continue
                try:
                    await asyncio.wait_for(turn.wait(), self.quiet_s)
                except TimeoutError:
                    yield ""
                turn.clear()
        finally:
            self._turns.remove(turn)
