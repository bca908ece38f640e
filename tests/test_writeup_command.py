"""The command `writeup`: each format, printed or in a file, in words that say what went wrong."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import html5lib
import pytest

from pattern.journal.journal import Journal
from pattern.session.events import NoteTaken
from pattern.session.history import CODEC
from pattern.session.state import State
from tests.openings import opening
from voice.cli import app
from voice.cli.braille import PROGRAM
from voice.cli.commands.writeup import FORMATS

NAME = "garden hat"


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    """A folder with one piece just begun."""
    with Journal.open(tmp_path, NAME, CODEC) as journal:
        journal.append(opening(State(), {"head_mm": 560.0}), "2026-03-01T18:30:00Z")
        journal.append((NoteTaken("for the garden", 0),), "2026-03-01T18:31:00Z")
    return tmp_path


def written(kept: Path, how: str, *more: str) -> int:
    return app.main(["writeup", NAME, "--folder", str(kept), "--format", how, *more])


@pytest.mark.parametrize("how", [one for one in FORMATS if one != "brf"])
def test_a_file_holds_what_is_printed(
    how: str, kept: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert written(kept, how) == 0
    printed, said = capfdbinary.readouterr()
    assert said == b""
    file = kept / "out"
    assert written(kept, how, "--out", str(file)) == 0
    assert capfdbinary.readouterr() == (b"", b"")
    assert file.read_bytes() == printed
    title = NAME
    assert title in printed.decode()
    if how == "json":
        assert json.loads(printed)["title"] == title
    if how == "html":
        root = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(printed.decode())
        assert root.findtext("head/title") == title


@pytest.mark.parametrize(
    "braille", ["contracted", "uncontracted", "us-contracted", "us-uncontracted"]
)
def test_braille_or_the_sentence_that_says_how_to_get_it(
    braille: str,
    kept: Path,
    monkeypatch: pytest.MonkeyPatch,
    capfdbinary: pytest.CaptureFixture[bytes],
) -> None:
    """With a program in liblouis's place that fails, and with none."""
    monkeypatch.setenv("PATH", str(kept))
    assert written(kept, "brf", "--braille", braille) == 1
    printed, said = capfdbinary.readouterr()
    assert printed == b""
    assert said.count(b"\n") == 1
    assert b"apt install liblouis-bin" in said
    (kept / PROGRAM).write_text("#!/bin/sh\nexit 1\n")
    (kept / PROGRAM).chmod(0o755)
    assert written(kept, "brf", "--braille", braille) == 1
    assert b"failed" in capfdbinary.readouterr().err


def test_a_file_that_cannot_be_written_is_one_sentence(
    kept: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert written(kept, "text", "--out", str(kept / "no" / "where")) == 1
    said = capfdbinary.readouterr().err
    assert said.count(b"\n") == 1
    assert b"cannot be written (No such file or directory)" in said


def test_a_page_is_utf_8_on_any_terminal(kept: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "voice", "writeup", NAME, "--folder", str(kept), "--format", "html"],
        capture_output=True,
        check=True,
        cwd=Path(__file__).parents[1],
        env={"PYTHONIOENCODING": "ascii", "PATH": ""},
    )
    assert "<!DOCTYPE html>" in done.stdout.decode("utf-8")
    assert done.stderr == b""


def test_what_is_printed_is_chosen(kept: Path, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    """Every choice with its own words, and none of them in the usual pattern."""
    usual_html, usual = print_as(kept, capfdbinary, "html"), print_as(kept, capfdbinary, "text")
    large = print_as(kept, capfdbinary, "html", "--large-print")
    assert "font-size: 18pt" in large
    assert "font-size: 18pt" not in usual_html
    assert "How the gauge was learned" in print_as(kept, capfdbinary, "text", "--with-readings")
    assert "How the gauge was learned" not in usual
    assert "for the garden" in print_as(kept, capfdbinary, "text", "--as-worked")
    assert "for the garden" not in usual


def print_as(kept: Path, capfdbinary: pytest.CaptureFixture[bytes], how: str, *more: str) -> str:
    assert written(kept, how, *more) == 0
    return capfdbinary.readouterr().out.decode()
