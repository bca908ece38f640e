"""The server of the page: draws what its parent says, and tells it the words from the page."""

from __future__ import annotations

import asyncio
import json
import socket
import threading
from collections import deque
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import BinaryIO

import uvicorn

from voice.page.application import Door, application
from voice.page.newest import Newest
from voice.page.said import Said
from voice.page.shown import as_data

READERS = 256
"""Connections at a time; more are refused."""
_WRITTEN_S = 0.1


class _Server(uvicorn.Server):
    """A server that ends whatever readers are there: Python 3.12 waits until all have gone."""

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Take no signals: the parent says when it ends."""
        yield

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """Take no more connections, send what is written, and drop those that are open."""
        for server in self.servers:
            server.close()
        await asyncio.sleep(_WRITTEN_S)
        for connection in list(self.server_state.connections):
            if connection.transport is not None:
                connection.transport.abort()
        await super().shutdown(sockets)


@dataclass(frozen=True, slots=True)
class Parent:
    """Both ways to whoever shows things."""

    told: BinaryIO
    """Lines from it: what is said, and true or false for each of the words, in their order."""
    telling: BinaryIO
    """Lines to it: the words from the page, as JSON texts, a byte a letter."""


class PageServer:
    """Serves the page until its parent has no more to show."""

    def __init__(self, door: Door, parent: Parent, quiet_s: float, *, typed: bool) -> None:
        """With `typed`, words from the page are told to the parent. For use in one event loop."""
        self._parent = parent
        self.newest = Newest(quiet_s)
        self._asked: deque[asyncio.Future[bool]] = deque()
        config = uvicorn.Config(
            application(door, self.newest, self._hear if typed else None),
            log_config=None,
            access_log=False,
            lifespan="off",
            ws="none",
            limit_concurrency=READERS,
            server_header=False,
        )
        self.server = _Server(config)

    async def serve(self, listening: socket.socket) -> None:
        """Serve until the lines end."""
        reading = (asyncio.get_running_loop(),)
        threading.Thread(target=self._read, args=reading, name="page lines", daemon=True).start()
        async with asyncio.TaskGroup() as tasks:
            waking = tasks.create_task(self.newest.wake())
            await self.server.serve(sockets=[listening])
            waking.cancel()

    def _read(self, loop: asyncio.AbstractEventLoop) -> None:
        for line in self._parent.told:
            if line in {b"true\n", b"false\n"}:
                loop.call_soon_threadsafe(self._asked.popleft().set_result, line == b"true\n")
            elif line.endswith(b"\n"):
                loop.call_soon_threadsafe(self.newest.put, as_data(Said.of_line(line)))
        loop.call_soon_threadsafe(self._end)

    def _end(self) -> None:
        self.newest.end()
        self.server.should_exit = self.server.force_exit = True

    async def _hear(self, words: bytes) -> bool:
        """Whether the parent takes the words."""
        answer: asyncio.Future[bool] = asyncio.get_running_loop().create_future()
        self._asked.append(answer)
        self._parent.telling.write(json.dumps(words.decode("latin-1")).encode() + b"\n")
        self._parent.telling.flush()
        return await answer
