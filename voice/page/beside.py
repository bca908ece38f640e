"""The page while a call lasts: a server in a thread of its own, for this machine alone."""

from __future__ import annotations

import asyncio
import secrets
import socket
import threading
from collections.abc import Callable
from types import TracebackType

import uvicorn

from pattern.session.state import State
from voice.page.application import Door, application
from voice.page.newest import QUIET_S, Newest
from voice.page.shown import Said, as_data

LOOPBACK = "127.0.0.1"
_READERS = 256
"""Connections at a time; more are refused."""
_CLOSING_S, _WRITTEN_S = 5.0, 0.1
_AFTER_S = 0.15
"""The page is drawn so long after something is said: the voice comes first; our choice."""


class _Server(uvicorn.Server):
    """A server that ends whatever readers are there: Python 3.12 waits until all have gone."""

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """Take no more connections, send what is written, and drop those that are open."""
        for server in self.servers:
            server.close()
        await asyncio.sleep(_WRITTEN_S)
        for connection in list(self.server_state.connections):
            if connection.transport is not None:
                connection.transport.abort()
        await super().shutdown(sockets)


class PageBeside:
    """Serves the page; whoever shows something on it never waits for a reader."""

    def __init__(
        self,
        port: int = 0,
        hear: Callable[[bytes], bool] | None = None,
        *,
        quiet_s: float = QUIET_S,
    ) -> None:
        """Listens at once, on any free port if `port` is taken; `hear` takes words from the page.

        A page that is sent nothing for `quiet_s` is sent a sign of life.

        Raises: OSError when no port can be had.
        """
        self.taken = False
        """Whether the port that was wanted was taken."""
        self._socket = self._bound(port)
        host = f"{LOOPBACK}:{self._socket.getsockname()[1]}"
        self._door = Door(host, secrets.token_urlsafe(16))
        self._hear, self._quiet_s = hear, quiet_s
        self._loop: asyncio.AbstractEventLoop | None = None
        self._waiting: Said | None = None
        self._wake = threading.Condition()
        self._newest: Newest | None = None
        self._server: uvicorn.Server | None = None
        self._ready = threading.Event()
        self._threads = [
            threading.Thread(target=self._serve, name="page", daemon=True),
            threading.Thread(target=self._draw, name="page drawings", daemon=True),
        ]
        self._closed = False

    @property
    def address(self) -> str:
        """Where the page is, with the token of this call."""
        return self._door.address

    def __enter__(self) -> PageBeside:
        """Begin to serve."""
        for thread in self._threads:
            thread.start()
        self._ready.wait()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """End, whatever readers are there."""
        with self._wake:
            self._closed = True
            self._wake.notify()
        serving, drawing = self._threads
        drawing.join(_CLOSING_S)
        if self._server is not None:
            self._server.should_exit = self._server.force_exit = True
        serving.join(_CLOSING_S)
        self._socket.close()

    def show(self, text: str, state: State) -> None:
        """Show something that was said; returns at once, and only the newest is drawn."""
        with self._wake:
            self._waiting = Said(text, state)
            self._wake.notify()

    def _bound(self, port: int) -> socket.socket:
        found = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        try:
            found.bind((LOOPBACK, port))
        except OSError:
            if not port:
                found.close()
                raise
            self.taken = True
            found.bind((LOOPBACK, 0))
        found.listen(_READERS)
        return found

    def _serve(self) -> None:
        asyncio.run(self._serving())

    async def _serving(self) -> None:
        self._loop, self._newest = asyncio.get_running_loop(), Newest(self._quiet_s)
        config = uvicorn.Config(
            application(self._door, self._newest, self._hear),
            log_config=None,
            access_log=False,
            lifespan="off",
            ws="none",
            limit_concurrency=_READERS,
            server_header=False,
        )
        self._server = _Server(config)
        self._ready.set()
        async with asyncio.TaskGroup() as tasks:
            waking = tasks.create_task(self._newest.wake())
            await self._server.serve(sockets=[self._socket])
            waking.cancel()

    def _draw(self) -> None:
        """Draw what is newest, and hand it to the readers, also what is said last of all."""
        self._ready.wait()
        assert self._loop is not None
        assert self._newest is not None
        closed = False
        while not closed:
            with self._wake:
                self._wake.wait_for(lambda: self._waiting is not None or self._closed)
                self._wake.wait_for(lambda: self._closed, _AFTER_S)
                said, self._waiting, closed = self._waiting, None, self._closed
            if said is not None:
                self._loop.call_soon_threadsafe(self._newest.put, as_data(said))
        self._loop.call_soon_threadsafe(self._newest.end)
