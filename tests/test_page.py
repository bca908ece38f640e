"""The pages in a browser, in both prints and colour schemes: axe-core finds nothing, they reflow
at 320 px, and their letters are large enough.

Source: WCAG 2.2, 1.4.10: at 400 % a window of 1280 px has 320.
"""

from __future__ import annotations

import importlib.util
import json
import os
import re
import shutil
import subprocess
from collections.abc import Callable
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from pattern.session import commands as c
from pattern.trade.lengths import Amount, Unit
from pattern.writeup.drawing import LARGE, REGULAR, Letters
from pattern.writeup.edition import Edition
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
  const seen = [...document.querySelectorAll("svg text")].filter(
    one => one.getClientRects().length);
  const letters = seen.map(
    one => parseFloat(getComputedStyle(one).fontSize) * one.ownerSVGElement.getScreenCTM().a);
  const body = [...document.querySelectorAll("p, li, td, th, dt, dd, h1, h2, h3, caption")].map(
    one => parseFloat(getComputedStyle(one).fontSize));
  parent.postMessage({name: "NAME", violations: brief(found.violations),
    incomplete: brief(found.incomplete), passes: found.passes.length, wide: root.scrollWidth,
    window: innerWidth, letters: Math.min(...letters), body: Math.min(...body),
    ground: getComputedStyle(root).backgroundColor}, "*");
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


def pattern_page(letters: Letters) -> str:
    """The write-up of a piece, with all that can be in it."""
    state = told(
        begun(unit="inch"),
        *[NEXT] * 9,
        c.Measured(Amount(13.0, 0.5, Unit.CM), c.Kind.ACROSS),
        *[NEXT] * 9,
        c.Measured(Amount(55.0, 0.5, Unit.CM), c.Kind.AROUND),
        *[NEXT] * 12,
        c.Note("for the garden"),
    )
    edition = Edition(letters, readings=True, as_worked=True)
    return as_html(as_made(state, "Garden hat", edition), letters)


PAGES: dict[str, Callable[[], str]] = {
    "regular": lambda: pattern_page(REGULAR),
    "large": lambda: pattern_page(LARGE),
    "manual": lambda: manual_pages.as_html(manual_pages.pages()),
}
SCHEMES = {"light": 1, "dark": 0}
"""What Chromium is told to prefer."""


def browser() -> str:
    """The browser, or no test of it."""
    if BROWSER is None:
        missing("there is no Chromium on this machine")
        raise AssertionError
    return BROWSER


def run_browser(folder: Path, *options: str) -> str:
    """What Chromium prints, without a window."""
    done = subprocess.run(
        [
            browser(),
            "--headless=new",
            "--no-sandbox",
            "--disable-gpu",
            f"--user-data-dir={folder / 'profile'}",
            *options,
        ],
        capture_output=True,
        text=True,
        timeout=180,
        check=True,
    )
    return done.stdout


@pytest.fixture(scope="module", params=SCHEMES)
def seen(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> list[dict[str, Any]]:
    """What the browser found in each page at each of WIDTHS_PX, in one colour scheme."""
    folder = tmp_path_factory.mktemp("page")
    frames = ""
    for name, page in PAGES.items():
        script = f"<script src='{axe().as_uri()}'></script>{RUN.replace('NAME', name)}"
        (folder / f"{name}.html").write_text(page().replace("</body>", f"{script}</body>"), "utf-8")
        frames += "".join(
            f"<iframe src={name}.html style='border:0;width:{wide}px;height:900px'></iframe>"
            for wide in WIDTHS_PX
        )
    count = str(len(WIDTHS_PX) * len(PAGES))
    (folder / "frame.html").write_text(FRAME.replace("FRAMES", count) + frames, "utf-8")
    shown = run_browser(
        folder,
        "--window-size=1400,2000",
        "--virtual-time-budget=60000",
        f"--blink-settings=preferredColorScheme={SCHEMES[request.param]}",
        "--dump-dom",
        (folder / "frame.html").as_uri(),
    )
    told_ = re.search(r"<pre>(.+?)</pre>", shown, re.S)
    assert told_, shown[-500:]
    found: list[dict[str, Any]] = json.loads(unescape(told_[1]))
    dark = all(one["ground"] != "rgb(255, 255, 255)" for one in found)
    assert dark is (request.param == "dark")
    return found


def test_axe_finds_no_violation(seen: list[dict[str, Any]]) -> None:
    for one in seen:
        assert one["passes"] > 20
        assert one["violations"] == [], one["name"]


def test_the_page_reflows(seen: list[dict[str, Any]]) -> None:
    assert sorted(one["window"] for one in seen) == sorted(WIDTHS_PX * len(PAGES))
    assert all(one["wide"] <= one["window"] for one in seen)


def test_letters_are_large_enough(seen: list[dict[str, Any]]) -> None:
    """18 pt are 24 px, and 14 px in pictures where the page is not enlarged (CSS Values 4); 12 pt
    are 16 px. Regular print has pictures of their own for narrow windows.
    """
    for one in seen:
        assert one["body"] >= (16 if one["name"] == "regular" else 24)
        if one["letters"] is not None:  # null: no pictures, as in the manual
            narrow = one["window"] == min(WIDTHS_PX)
            wide = 24 if one["name"] == "large" else 12.5
            assert one["letters"] >= (14 if narrow else wide)
