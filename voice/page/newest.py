"""The newest content, for any number of readers; nobody waits for a slow one."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator

QUIET_S = 15.0
"""A reader is sent a sign of life after so long; our choice."""


class Newest:
    """Holds the newest content only: a reader that was slow gets that, and not what it missed.

    For use in one event loop.
    """

    def __init__(self) -> None:
        """Nothing yet."""
        self._content, self._number = "", 0
        self._changed = asyncio.Condition()

    async def put(self, content: str) -> None:
        """Replace the content, and wake the readers."""
        async with self._changed:
            self._content = content
            self._number += 1
            self._changed.notify_all()

    async def read(self) -> AsyncIterator[str]:
        """The content now, and then the newest each time; empty for a sign of life."""
        seen = 0

        def newer() -> bool:
            return self._number > seen

        while True:
            async with self._changed:
                try:
                    await asyncio.wait_for(self._changed.wait_for(newer), QUIET_S)
                except TimeoutError:
                    found = ""
                else:
                    seen, found = self._number, self._content
            yield found
