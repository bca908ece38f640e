"""Braille for an embosser: the layout, and the words read back by liblouis."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.forecast.rest_of_piece import rounds_made
from pattern.trade.stitches import Terms
from pattern.writeup.document import Items, Paragraph, Section, Steps, Table, Writeup
from pattern.writeup.writeup import as_made
from tests.pieces import NEXT, Story, begun, stories, told
from tests.properties import examples
from tests.test_page import missing
from voice.cli.braille import CELLS, LINES, PROGRAM, Braille, NoBraille, as_brf, translated


@pytest.fixture(scope="module", autouse=True)
def louis() -> str:
    """The program, or no test of it."""
    where = shutil.which(PROGRAM)
    if where is None:
        missing(f"{PROGRAM} is not installed (Debian: liblouis-bin)")
        raise AssertionError
    return where


def words_of(brf: str, louis: str, braille: Braille) -> list[str]:
    """The words that liblouis reads back from the cells, pages and their numbers left out."""
    rows = [row for page in brf.split("\f") for row in page.split("\r\n")[: LINES - 1]]
    cells = re.sub(r"\s+", " ", " ".join(rows))
    # Some longer lines come back empty from liblouis 3.24.
    chunks = re.findall(r"\S(?:.{0,60}\S)?(?= |$)", cells)
    done = subprocess.run(
        [louis, "--backward", f"en-us-brf.dis,{braille.value}"],
        input="\n".join(chunks) + "\n",
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    return done.stdout.lower().split()


@pytest.mark.parametrize(
    ("braille", "cells"),
    [(Braille.CONTRACTED, ",ROUND"), (Braille.UNCONTRACTED, ",ROUND")],
)
def test_a_capital_and_its_letters(braille: Braille, cells: str) -> None:
    """ "Round" is capital, r, (ou n d or one sign). North American ASCII braille: dot 6 is a comma,
    numbers follow # as letters a to j (from memory).
    """
    (found,) = translated(["Round 10"], braille)
    assert found.startswith(",R")
    assert found.endswith(" #AJ")
    assert (found == f"{cells} #AJ") == (braille is Braille.UNCONTRACTED)


@settings(max_examples=examples(10))
@given(stories(), st.sampled_from(Braille))
def test_pages_are_cells_by_lines(story: Story, braille: Braille) -> None:
    pages = as_brf(as_made(story.state, "Test"), braille).split("\f")
    assert pages.pop() == ""
    for number, page in enumerate(pages, 1):
        rows = page.split("\r\n")
        assert rows.pop() == ""
        assert len(rows) == LINES
        assert all(len(row) <= CELLS for row in rows)
        assert all(0x20 <= ord(sign) <= 0x5F for row in rows for sign in row)
        digits = "".join("JABCDEFGHI"[int(digit)] for digit in str(number))
        assert rows[-1] == f"#{digits}".rjust(CELLS)


@settings(max_examples=examples(10))
@given(stories())
def test_no_heading_stands_last_on_its_page(story: Story) -> None:
    writeup = as_made(story.state, "Test")
    headings = translated([section.heading for section in writeup.sections], Braille.CONTRACTED)
    for page in as_brf(writeup).split("\f"):
        rows = [row for row in page.split("\r\n")[: LINES - 1] if row.strip()]
        assert not rows or rows[-1].strip() not in headings


@pytest.mark.parametrize("braille", [Braille.UNCONTRACTED, Braille.CONTRACTED])
def test_rounds_read_back_word_for_word(louis: str, braille: Braille) -> None:
    """liblouis translates back what it translated: every word of the rounds is there in order."""
    state = told(begun(), *[NEXT] * 30)
    writeup = as_made(state, "Test")
    found = " ".join(words_of(as_brf(writeup, braille), louis, braille))
    assert len(rounds_made(state)) == 30
    (made,) = [one for one in writeup.sections if one.heading == "Rounds"]
    lines = [
        step.text
        for part in made.sections
        for block in part.blocks
        if isinstance(block, Steps)
        for step in block.steps
    ]
    missed = [line for line in lines if line.lower() not in found]
    assert missed == []


def test_long_texts_tables_and_empty_ones_are_whole() -> None:
    """More than liblouis takes at once; three columns go in words."""
    long = " ".join(["stitch"] * 900)
    table = Table("Cap", ("a", "b", "d"), (("row", "one", ""), ("x", "y", "z")))
    section = Section("Head", (Paragraph(long), Paragraph(""), table, Items(("k",), ordered=True)))
    brf = as_brf(Writeup("T", Terms.US, (section,)), Braille.UNCONTRACTED)
    assert brf.count("STITCH") == 900
    assert "ROW2 B3 ONE" in brf
    assert "X2 B3 Y2 D3 Z" in brf
    assert "#A4 K" in brf


def test_any_sign_leaves_the_words_beside_it() -> None:
    """A backslash is no escape, and signs that have no braille do not take words with them.

    A backslash is dots 456, 16 in unified English braille (from memory).
    """
    for sign in ("\\", "\\q", "\\x0041", "帽", "🧶", "{", "~", "`", "½", "\u00a0", "\n"):
        (found,) = translated([f"Test {sign} hat"], Braille.UNCONTRACTED)
        assert found.startswith(",TEST")
        assert found.endswith("HAT")
        assert all(0x20 <= ord(one) <= 0x5F for one in found)
    assert translated(["Test \\x0041 hat"], Braille.UNCONTRACTED) == [",TEST _*X#JJDA HAT"]


def test_without_liblouis_one_sentence_says_what_to_do(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(NoBraille) as refused:
        translated(["a"], Braille.CONTRACTED)
    assert "install liblouis" in str(refused.value)
    program = tmp_path / PROGRAM
    program.write_text("#!/bin/sh\nexit 3\n")
    program.chmod(0o755)
    with pytest.raises(NoBraille, match="failed"):
        translated(["a"], Braille.CONTRACTED)
    program.write_text("#!/bin/sh\necho a\necho b\n")
    with pytest.raises(NoBraille, match="2 lines for 1"):
        translated(["a"], Braille.CONTRACTED)
