"""The page in a real browser while the call cannot be reached, and after."""

from __future__ import annotations

import json
import threading
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager

import pytest

from tests.devtools import Tab, tab
from tests.pieces import begun
from voice.page.application import Door
from voice.page.beside import PageBeside

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


def aborted(beside: PageBeside) -> None:
    """Cut every connection at the server's end, without a word to whoever reads."""
    server, loop, done = beside._server, beside._loop, threading.Event()
    assert server is not None
    assert loop is not None

    def abort() -> None:
        for connection in list(server.server_state.connections):
            connection.transport.abort()  # type: ignore[union-attr]
        done.set()

    loop.call_soon_threadsafe(abort)
    assert done.wait(30)


@contextmanager
def cut(_shown: Tab, beside: PageBeside) -> Iterator[None]:
    """As a machine may wake from sleep: the browser believes itself connected."""
    aborted(beside)
    yield


@contextmanager
def offline(shown: Tab, beside: PageBeside) -> Iterator[None]:
    """The network of the machine is away, and with it the connection."""
    rules = {"latency": 0, "downloadThroughput": -1, "uploadThroughput": -1}
    shown.send("Network.enable")
    shown.send("Network.emulateNetworkConditions", offline=True, **rules)
    assert shown.value("fetch('').then(() => false, () => true)")
    aborted(beside)
    yield
    shown.send("Network.emulateNetworkConditions", offline=False, **rules)


@contextmanager
def standing_still(_shown: Tab, beside: PageBeside) -> Iterator[None]:
    """The connection stays, but nothing comes, as from a program that is held up."""
    goes_on = threading.Event()
    assert beside._loop is not None
    beside._loop.call_soon_threadsafe(goes_on.wait, 60)
    yield
    goes_on.set()


@contextmanager
def refused(shown: Tab, beside: PageBeside) -> Iterator[None]:
    """The connection is cut, and the next is answered with no: a browser asks no more by itself.

    Source: HTML Standard, 9.2.3, "fail the connection".
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Door, "lets_in", lambda *_, **__: False)
        aborted(beside)
        yield
        shown.until("news.readyState === EventSource.CLOSED")


@pytest.mark.parametrize("lost", [cut, offline, standing_still, refused])
def test_the_page_says_that_it_is_not_connected_and_comes_back_with_the_newest(
    shown: Tab, lost: Callable[[Tab, PageBeside], AbstractContextManager[None]]
) -> None:
    state = begun()
    with PageBeside(quiet_s=QUIET_S) as beside:
        shown.send("Page.navigate", url=beside.address)
        beside.show("old", state)
        shown.until("document.getElementById('said')?.textContent === 'old'")
        shown.value(SEEN)
        with lost(shown, beside):
            shown.until("saw.notice.some(words => words.startsWith('Not connected.'))")
            beside.show("newer", state)
            beside.show("newest", state)
        shown.until("at('said').textContent === 'newest' && at('notice').hidden")
        saw = shown.value("saw")
    assert "old" not in saw["said"], json.dumps(saw)
    assert saw["said"][-1] == "newest"
