"""The pages in a browser: axe-core finds nothing, they reflow at 320 px, their letters are large.

Source: WCAG 2.2, 1.4.10: at 400 % a window of 1280 px has 320.
"""

from __future__ import annotations

import importlib.util
import json
import os
import re
import shutil
import subprocess
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from pattern.session import commands as c
from pattern.trade.lengths import Amount, Unit
from pattern.writeup.html import as_html
from pattern.writeup.writeup import as_made
from tests.pieces import NEXT, begun, told
from voice.cli import manual_pages

BROWSER = shutil.which("chromium") or shutil.which("chromium-browser")
WIDTHS_PX = (1280, 320)
RUN = """
<script>
onload = async () => {
  const found = await axe.run(document, {resultTypes: ["violations", "incomplete"]});
  const brief = list => list.map(one => [one.id, one.nodes[0].html.slice(0, 200)]);
  const root = document.documentElement;
  const letters = [...document.querySelectorAll("svg text")].map(
    one => parseFloat(getComputedStyle(one).fontSize) * one.ownerSVGElement.getScreenCTM().a);
  const body = [...document.querySelectorAll("p, li, td, th, h1, h2, h3, caption, figcaption")].map(
    one => parseFloat(getComputedStyle(one).fontSize));
  parent.postMessage({violations: brief(found.violations), incomplete: brief(found.incomplete),
    passes: found.passes.length, wide: root.scrollWidth, window: innerWidth,
    letters: Math.min(...letters), body: Math.min(...body)}, "*");
};
</script>
"""
FRAME = """<!DOCTYPE html><title>frame</title><pre></pre>
<script>
const found = [];
onmessage = told => {
  found.push(told.data);
  if (found.length === FRAMES) document.querySelector("pre").textContent = JSON.stringify(found);
};
</script>
"""


def missing(reason: str) -> None:
    """Skip the test, or fail it where RA_REQUIRE_PAGE=1 promises a browser."""
    if os.environ.get("RA_REQUIRE_PAGE") == "1":
        pytest.fail(reason)
    pytest.skip(reason)


def axe() -> Path:
    """axe-core's script: the file that RA_AXE names, or the one in axe-core-python."""
    if "RA_AXE" in os.environ:
        return Path(os.environ["RA_AXE"])
    found = importlib.util.find_spec("axe_core_python")
    if found is None or found.origin is None:
        missing("axe-core-python is not installed")
        raise AssertionError
    return Path(found.origin).with_name("axe.min.js")


def pattern_page() -> str:
    """The write-up of a piece, with its pictures."""
    state = told(
        begun(unit="inch"),
        *[NEXT] * 9,
        c.Measured(Amount(13.0, 0.5, Unit.CM), c.Kind.ACROSS),
        *[NEXT] * 9,
        c.Measured(Amount(55.0, 0.5, Unit.CM), c.Kind.AROUND),
        *[NEXT] * 12,
    )
    return as_html(as_made(state, "Garden hat"))


def manual_page() -> str:
    """The whole manual."""
    return manual_pages.as_html(manual_pages.pages())


PAGES = {"pattern": pattern_page, "manual": manual_page}


@pytest.fixture(scope="module", params=PAGES)
def seen(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> list[dict[str, Any]]:
    """What the browser found in a page, one for each of WIDTHS_PX."""
    if BROWSER is None:
        missing("there is no Chromium on this machine")
        raise AssertionError
    folder = tmp_path_factory.mktemp("page")
    page = PAGES[request.param]()
    script = f"<script src='{axe().as_uri()}'></script>{RUN}"
    (folder / "page.html").write_text(page.replace("</body>", f"{script}</body>"), "utf-8")
    frames = "".join(
        f"<iframe src=page.html style='border:0;width:{wide}px;height:900px'></iframe>"
        for wide in WIDTHS_PX
    )
    frame = FRAME.replace("FRAMES", str(len(WIDTHS_PX))) + frames
    (folder / "frame.html").write_text(frame, "utf-8")
    done = subprocess.run(
        [
            BROWSER,
            "--headless=new",
            "--no-sandbox",
            "--disable-gpu",
            "--window-size=1400,2000",
            f"--user-data-dir={folder / 'profile'}",
            "--virtual-time-budget=60000",
            "--dump-dom",
            (folder / "frame.html").as_uri(),
        ],
        capture_output=True,
        text=True,
        timeout=180,
        check=True,
    )
    told_ = re.search(r"<pre>(.+?)</pre>", done.stdout, re.S)
    assert told_, done.stdout[-500:] + done.stderr[-500:]
    found: list[dict[str, Any]] = json.loads(unescape(told_[1]))
    return sorted(found, key=lambda one: -one["window"])


def test_axe_finds_no_violation(seen: list[dict[str, Any]]) -> None:
    for one in seen:
        assert one["passes"] > 20
        assert one["violations"] == []


def test_the_page_reflows(seen: list[dict[str, Any]]) -> None:
    assert [one["window"] for one in seen] == list(WIDTHS_PX)
    assert all(one["wide"] <= one["window"] for one in seen)


def test_letters_are_large(seen: list[dict[str, Any]]) -> None:
    """18 pt are 24 px, and 14 px in pictures where the page is not enlarged (CSS Values 4)."""
    assert all(one["body"] >= 24 for one in seen)
    if seen[0]["letters"] is not None:  # null: no pictures, as in the manual
        assert seen[0]["letters"] >= 24
        assert seen[1]["letters"] >= 14
