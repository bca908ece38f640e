"""The page in a real browser while the call cannot be reached, and after."""

from __future__ import annotations

import asyncio
import json
import os
import threading
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from io import BytesIO

import pytest

from tests.devtools import Tab, tab
from tests.pieces import begun
from voice.page.application import Door
from voice.page.page_child import LOOPBACK, bound
from voice.page.said import Said
from voice.page.server import PageServer, Parent

QUIET_S = 0.3
"""A page that hears nothing for some times as long takes the call for lost."""
SEEN = """
window.saw = {said: [], notice: []};
for (const name in saw) new MutationObserver(() => saw[name].push(at(name).textContent))
  .observe(at(name), {childList: true});
"""


@pytest.fixture(scope="module")
def shown(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Tab]:
    """One browser for all of them."""
    with tab(tmp_path_factory.mktemp("again"), "about:blank") as found:
        yield found


class Here:
    """The server in a thread of this process, where its connections can be reached."""

    def __init__(self) -> None:
        self._listening, _ = bound(0)
        door = Door(f"{LOOPBACK}:{self._listening.getsockname()[1]}", "token")
        self.address = f"http://{door.host}/{door.token}/"
        read, write = os.pipe()
        self._told, self._shows = os.fdopen(read, "rb"), os.fdopen(write, "wb")
        self._server = PageServer(door, Parent(self._told, BytesIO()), QUIET_S, typed=False)
        self._loop: asyncio.AbstractEventLoop | None = None
        self._thread = threading.Thread(target=lambda: asyncio.run(self._serve()))

    async def _serve(self) -> None:
        self._loop = asyncio.get_running_loop()
        await self._server.serve(self._listening)

    def __enter__(self) -> Here:
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._shows.close()
        self._thread.join()
        self._told.close()
        self._listening.close()

    def show(self, text: str) -> None:
        """Show a text."""
        self._shows.write(Said(text, begun()).as_line())
        self._shows.flush()

    def does(self, work: Callable[..., object], *about: object) -> None:
        """Let the server do something beside."""
        assert self._loop is not None
        self._loop.call_soon_threadsafe(work, *about)

    def abort(self) -> None:
        """Cut every connection at the server's end, without a word to whoever reads."""
        self.does(self._abort)

    def _abort(self) -> None:
        for one in list(self._server.server.server_state.connections):
            one.transport.abort()


@contextmanager
def cut(_shown: Tab, here: Here) -> Iterator[None]:
    """As a machine may wake from sleep: the browser believes itself connected."""
    here.abort()
    yield


@contextmanager
def offline(shown: Tab, here: Here) -> Iterator[None]:
    """The network of the machine is away, and with it the connection."""
    rules = {"latency": 0, "downloadThroughput": -1, "uploadThroughput": -1}
    shown.send("Network.enable")
    shown.send("Network.emulateNetworkConditions", offline=True, **rules)
    assert shown.value("fetch('').then(() => false, () => true)")
    here.abort()
    yield
    shown.send("Network.emulateNetworkConditions", offline=False, **rules)


@contextmanager
def standing_still(_shown: Tab, here: Here) -> Iterator[None]:
    """The connection stays, but nothing comes, as from a program that is held up."""
    goes_on = threading.Event()
    here.does(goes_on.wait, 60)
    yield
    goes_on.set()


@contextmanager
def refused(shown: Tab, here: Here) -> Iterator[None]:
    """The connection is cut, and the next is answered with no: a browser asks no more by itself.

    Source: HTML Standard, 9.2.3, "fail the connection".
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Door, "lets_in", lambda *_, **__: False)
        here.abort()
        yield
        shown.until("news.readyState === EventSource.CLOSED")


@pytest.mark.parametrize("lost", [cut, offline, standing_still, refused])
def test_the_page_says_that_it_is_not_connected_and_comes_back_with_the_newest(
    shown: Tab, lost: Callable[[Tab, Here], AbstractContextManager[None]]
) -> None:
    with Here() as here:
        shown.send("Page.navigate", url=here.address)
        here.show("old")
        shown.until("document.getElementById('said')?.textContent === 'old'")
        shown.value(SEEN)
        with lost(shown, here):
            shown.until("saw.notice.some(words => words.startsWith('Not connected.'))")
            here.show("newer")
            here.show("newest")
        shown.until("at('said').textContent === 'newest' && at('notice').hidden")
        saw = shown.value("saw")
    assert "old" not in saw["said"], json.dumps(saw)
    assert saw["said"][-1] == "newest"
