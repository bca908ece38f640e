"""The page of a whole call in a real browser, and the end of that call."""

from __future__ import annotations

import json
import re
import socket
import subprocess
import sys
from contextlib import suppress
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from tests.devtools import tab
from tests.test_page import axe
from tests.test_page_beside import LIMIT_S, news, reader
from voice.page.beside import PageBeside

ROOT = Path(__file__).parents[1]


def call(folder: Path, *more: str) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "voice", "call", "--typed", "--page", "--folder", str(folder)]
    return subprocess.Popen(
        [*command, *more],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        cwd=ROOT,
        env={"PATH": "/nowhere", "HOME": str(folder)},
    )


def test_a_call_on_the_page_in_a_real_browser(tmp_path: Path) -> None:
    """Rounds advance by typed words; at 1280 px and at 320 px, which are 400 % of it, in both
    colour schemes, axe finds nothing and nothing is wider than the window.
    """
    with call(tmp_path, "--head", "56cm", "--unit", "cm") as program:
        assert program.stderr is not None
        line = program.stderr.readline()
        found = re.search(r"http://\S+/", line)
        assert found, line
        assert "open it in a browser" in line
        with tab(tmp_path, found[0]) as shown:
            shown.until("document.getElementById('said')?.textContent.startsWith('A new hat')")
            shown.type("begin")
            shown.until("document.getElementById('where').textContent.startsWith('Round 1 ')")
            shown.type("next")
            shown.until("document.getElementById('where').textContent.startsWith('Round 2 ')")
            shown.until("document.querySelectorAll('svg').length === 2")
            shown.value(axe().read_text("utf-8") + "; 0")
            for wide_px in (1280, 320):
                for dark in (False, True):
                    shown.wide(wide_px, dark=dark)
                    shown.picture(tmp_path / f"{wide_px}-{dark}.png")
                    assert seen(shown.value(LOOK), dark=dark)
            shown.type("leave")
            shown.until(
                "document.getElementById('notice').textContent.startsWith('The call is ov')"
            )
            assert seen(shown.value(LOOK), dark=True)
            assert not shown.value("document.getElementById('words').checkVisibility()")
            last = shown.value("document.getElementById('said').textContent")
        out, _ = program.communicate(timeout=LIMIT_S)
    assert program.returncode == 0
    assert last.replace("\u2019", "'").replace("\u00a0", " ") == out.splitlines()[-1]
    assert "Round two" in out


def test_the_server_ends_with_the_call_however_that_ends(tmp_path: Path) -> None:
    with call(tmp_path, "--head", "56cm") as program:
        assert program.stderr is not None
        found = re.search(r"http://\S+/", program.stderr.readline())
        assert found
        with reader(found[0]) as one:
            assert news(one)["said"]
            program.kill()
            assert b"event: over" in one.read()
        host = urlsplit(found[0])
        while True:  # until the listening ends, which comes after the news
            try:
                one_more = socket.create_connection((str(host.hostname), int(host.port or 0)))
            except ConnectionRefusedError:
                break
            with one_more, suppress(ConnectionResetError):
                one_more.recv(1)


def test_quotes_are_curled_and_tens_are_not_torn_from_their_ones(tmp_path: Path) -> None:
    """Or "six times. Forty" may stand on one line; common practice, no source."""
    words = "Say 'next'. It's six times. Forty two stitches, seventy of them."
    with PageBeside() as beside, tab(tmp_path, beside.address) as shown:
        shown.until("document.getElementById('said')")
        set_so = shown.value(f"typeset({json.dumps(words)})")
    assert set_so == words.replace("'next'", "\u2018next\u2019").replace("'", "\u2019").replace(
        "Forty two", "Forty\u00a0two"
    )


LOOK = """
axe.run(document).then(found => ({violations: found.violations.map(one => one.id),
  passes: found.passes.length, wide: document.documentElement.scrollWidth, window: innerWidth,
  ground: getComputedStyle(document.documentElement).backgroundColor,
  letters: parseFloat(getComputedStyle(document.getElementById("said")).fontSize)}))
"""


def seen(found: dict[str, Any], *, dark: bool) -> bool:
    """Whether a look at the page is as it should be; letters of 28 px are 21 pt."""
    assert found["violations"] == []
    assert found["passes"] > 5
    assert found["wide"] <= found["window"]
    assert found["letters"] >= 28
    return bool(found["ground"] == ("rgb(0, 0, 0)" if dark else "rgb(255, 255, 255)"))
