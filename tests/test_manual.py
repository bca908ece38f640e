"""The manual: every topic is listed and shown, and its page holds every word of it."""

from __future__ import annotations

import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import html5lib
import pytest

from voice.cli import app
from voice.cli.manual_pages import ORDER, WHOLE, Page, as_html, pages

ROOT = Path(__file__).parents[1]


def shown(*args: str) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-m", "voice", "manual", *args],
        capture_output=True,
        cwd=ROOT,
        env={"PYTHONIOENCODING": "ascii", "PATH": ""},
        check=False,
    )


def parsed(page: str) -> ET.Element:
    """The tree that a browser makes; any parse error of the HTML standard is raised."""
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    root: ET.Element = parser.parse(page)
    return root


def words(text: str) -> list[str]:
    """Words without what Markdown writes around them."""
    plain = re.sub(
        r"^\|[-:| ]+\|$|^ *(?:#+|-|\d+\.) |\[([^]]+)\]\([^)]+\)", r"\1", text, flags=re.M
    )
    return re.findall(r"\w+", plain)


def test_every_page_of_the_folder_is_a_topic() -> None:
    there = {path.stem for path in (ROOT / "voice" / "manual").iterdir()}
    assert there | {"licences"} == set(ORDER)
    assert all(page.text.startswith(f"# {page.title}\n\n") for page in pages())


def test_topics_are_listed_and_each_is_shown_as_it_is_written() -> None:
    listed = shown()
    assert listed.returncode == 0
    assert listed.stdout.decode().splitlines() == [f"{p.topic}: {p.title}" for p in pages()]
    computing = shown("Computing")
    assert computing.stdout.decode() == (ROOT / "voice/manual/computing.md").read_text("utf-8")
    assert "π" in computing.stdout.decode()


def test_no_such_topic_is_one_sentence_that_names_them() -> None:
    refused = shown("girth")
    assert (refused.returncode, refused.stdout) == (1, b"")
    assert refused.stderr.decode().count("\n") == 1
    assert "phrases, " in refused.stderr.decode()


@pytest.mark.parametrize("args", [("files",), ("files", "--format", "html"), ("--format", "html")])
def test_a_file_holds_what_is_printed(
    args: tuple[str, ...], tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert app.main(["manual", *args]) == 0
    printed, _ = capfdbinary.readouterr()
    assert app.main(["manual", *args, "--out", str(tmp_path / "out")]) == 0
    assert capfdbinary.readouterr() == (b"", b"")
    assert (tmp_path / "out").read_bytes() == printed


@pytest.mark.parametrize("chosen", [*((page,) for page in pages()), pages()], ids=[*ORDER, "all"])
def test_the_page_holds_every_word_in_order_and_its_links_lead_somewhere(
    chosen: tuple[Page, ...],
) -> None:
    root = parsed(as_html(chosen))
    main = root.find("body/main")
    assert main is not None
    title = WHOLE if len(chosen) > 1 else chosen[0].title
    assert [one.text for one in main.iter("h1")] == [title]
    assert root.findtext("head/title") == title
    nav = main.find("nav")
    assert nav is not None
    links = [link.get("href") for link in nav.iter("a")]
    assert links == [f"#{one.get('id')}" for one in main.iter("h2")]
    assert len(set(links)) == len(links)
    main.remove(nav)
    told = words("\n".join([title] * (len(chosen) > 1) + [page.text for page in chosen]))
    assert re.findall(r"\w+", " ".join(main.itertext())) == told


def test_a_page_needs_no_other_file() -> None:
    root = parsed(as_html(pages()))
    assert not [one for one in root.iter() if one.get("src") or one.tag in {"link", "script"}]
    assert all((link.get("href") or "").startswith("#") for link in root.iter("a"))


def test_each_table_is_named_by_its_heading() -> None:
    scripts = next(page for page in pages() if page.topic == "scripts")
    regions = [one.get("aria-label") for one in parsed(as_html([scripts])).iter("div")]
    assert regions == [
        "Table 1: One answer a line",
        "Table 2: What a sound file would do",
        "Table 3: How a command ends",
    ]
