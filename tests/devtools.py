"""A real Chromium, driven over its DevTools protocol."""

from __future__ import annotations

import itertools
import json
import subprocess
import urllib.request
from base64 import b64decode
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from websockets.sync.client import ClientConnection, connect

from tests.test_page import browser

LIMIT_S = 60.0


class Tab:
    """One page of the browser."""

    def __init__(self, connection: ClientConnection) -> None:
        self._connection = connection
        self._numbers = itertools.count(1)

    def send(self, method: str, **params: object) -> dict[str, Any]:
        """The result of a method of the protocol."""
        number = next(self._numbers)
        self._connection.send(json.dumps({"id": number, "method": method, "params": params}))
        while True:
            told = json.loads(self._connection.recv(timeout=LIMIT_S))
            if told.get("id") == number:
                assert "error" not in told, told
                result: dict[str, Any] = told["result"]
                return result

    def value(self, script: str) -> Any:  # noqa: ANN401 - whatever the page has
        """The value of an expression in the page, awaited."""
        told = self.send(
            "Runtime.evaluate", expression=script, awaitPromise=True, returnByValue=True
        )
        assert "exceptionDetails" not in told, told
        return told["result"].get("value")

    def until(self, script: str) -> None:
        """Wait in the page until an expression is true."""
        self.value(
            "new Promise((done, fail) => { const end = Date.now() + 40000; const look = () => {"
            f" if ({script}) done(); else if (Date.now() > end) fail(new Error({script!r} + "
            "document.body.innerText)); else setTimeout(look, 30); }; look(); })"
        )

    def type(self, words: str) -> None:
        """Type into the field that has the focus, and press Enter."""
        self.send("Input.insertText", text=words)
        for kind in ("keyDown", "keyUp"):
            self.send(
                "Input.dispatchKeyEvent",
                type=kind,
                key="Enter",
                code="Enter",
                text="\r" if kind == "keyDown" else "",
                windowsVirtualKeyCode=13,
            )

    def picture(self, path: Path) -> None:
        """Keep a picture of the window."""
        told = self.send("Page.captureScreenshot")
        path.write_bytes(b64decode(told["data"]))

    def wide(self, width_px: int, *, dark: bool) -> None:
        """Give the window another width, and the system another colour scheme."""
        self.send(
            "Emulation.setDeviceMetricsOverride",
            width=width_px,
            height=800,
            deviceScaleFactor=1,
            mobile=False,
        )
        scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
        self.send("Emulation.setEmulatedMedia", features=[scheme])


@contextmanager
def tab(folder: Path, address: str) -> Iterator[Tab]:
    """A browser with one page open."""
    options = ("--headless=new", "--no-sandbox", "--disable-gpu", "--remote-debugging-port=0")
    with subprocess.Popen(
        [browser(), *options, f"--user-data-dir={folder / 'profile'}", "about:blank"],
        stderr=subprocess.PIPE,
        text=True,
    ) as process:
        try:
            assert process.stderr is not None
            listens = next(line for line in process.stderr if "DevTools listening on" in line)
            host = listens.split("//")[1].split("/")[0]
            with urllib.request.urlopen(f"http://{host}/json", timeout=LIMIT_S) as told:
                pages = [one for one in json.load(told) if one["type"] == "page"]
            with connect(pages[0]["webSocketDebuggerUrl"], max_size=None) as connection:
                found = Tab(connection)
                found.send("Page.enable")
                found.send("Page.navigate", url=address)
                yield found
        finally:
            process.terminate()
