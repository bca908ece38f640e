"""A written document as an embosser takes it: lines of braille cells in ASCII, page after page.

The translating is liblouis's, by its program; only the laying out is ours.
"""

# ruff: noqa: N818  (a name says what happened, as in NoBraille)

from __future__ import annotations

import shutil
import subprocess
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from pattern.errors import RoundsAloudError
from pattern.writeup.document import Block, Items, Paragraph, Section, Table, Writeup

CELLS, LINES = 40, 25
"""Cells of a line and lines of a page: common practice for embossed letter paper, no source."""
PROGRAM = "lou_translate"
_WAIT_S = 60.0


class Braille(StrEnum):
    """Which braille; the value is liblouis's table of it."""

    CONTRACTED = "en-ueb-g2.ctb"
    UNCONTRACTED = "en-ueb-g1.ctb"
    US_CONTRACTED = "en-us-g2.ctb"
    """The older American code, for who learned it."""
    US_UNCONTRACTED = "en-us-g1.ctb"


@dataclass(eq=False)
class NoBraille(RoundsAloudError):
    """The program that translates to braille is not here, or did not do it."""

    why: str

    says = (
        "Braille cannot be written ({self.why}); install liblouis with its programs "
        "(Debian: apt install liblouis-bin) or choose another format."
    )


@dataclass(frozen=True, slots=True)
class Line:
    """One text to lay out: cells before its first line and before the others."""

    text: str
    first: int = 2
    others: int = 0
    gap: bool = False
    """An empty line before it, except at the head of a page."""
    stays: bool = False
    """Never last on its page: what follows belongs to it."""


def as_brf(writeup: Writeup, braille: Braille = Braille.CONTRACTED) -> str:
    """The document in North American ASCII braille, 40 cells by 25 lines, a form feed a page.

    Rounds are kept on one page where they fit. Raises: NoBraille without liblouis.
    """
    lines = list(_lines(writeup))
    cells = translated([line.text for line in lines], braille)
    numbers = translated([str(page) for page in range(1, len(lines) + 2)], braille)
    laid = [_laid(line, text) for line, text in zip(lines, cells, strict=True)]
    return "".join(
        _page(page, number) for page, number in zip(_pages(lines, laid), numbers, strict=False)
    )


def translated(texts: Sequence[str], braille: Braille) -> list[str]:
    """Each text in ASCII braille, on one line however long; a sign that has no braille comes as
    its code point in quotes. Raises: NoBraille.
    """
    where = shutil.which(PROGRAM)
    # On Windows the current folder is looked in first: a program there is not the one installed.
    if where is None or not Path(where).is_absolute():
        raise NoBraille(f"there is no {PROGRAM} on this machine")
    runs = [_runs(text) for text in texts]
    said = "".join(f"{run}\n" for found in runs for run in found)
    try:
        done = subprocess.run(
            [where, "--forward", f"en-us-brf.dis,{braille.value}"],
            input=said,
            capture_output=True,
            encoding="utf-8",
            timeout=_WAIT_S,
            check=True,
        )
    except (subprocess.SubprocessError, OSError, UnicodeError) as problem:
        raise NoBraille(f"{PROGRAM} failed: {problem}") from problem
    out = done.stdout.split("\n")[:-1]
    sent = [run for found in runs for run in found]
    if [bool(line.strip()) for line in out] != [bool(run) for run in sent]:
        raise NoBraille(f"{PROGRAM} gave back {len(out)} lines for {len(sent)}, or empty ones")
    lines = iter(out)
    return [" ".join(next(lines).strip() for _ in found) for found in runs]


def _runs(text: str) -> list[str]:
    r"""The text in lines that the program takes whole, its backslashes, which it reads as
    escapes, doubled, and its blanks all plain.

    It cuts a line after some 2,000 signs (seen with version 3.24).
    """
    lines = textwrap.wrap(" ".join(text.split()), 400, break_on_hyphens=False) or [""]
    return [line.replace("\\", "\\\\") for line in lines]


def _lines(writeup: Writeup) -> Iterator[Line]:
    """Headings, paragraphs and lists as braille formats lay them: minor headings at the fifth
    cell, paragraphs with their first line at the third, lists with the other lines there.

    Source: Braille Authority of North America, Braille Formats, 2016 (from memory).
    """
    yield Line(writeup.title, 4, 4, stays=True)
    for section in writeup.sections:
        yield from _section(section)


def _section(section: Section) -> Iterator[Line]:
    yield Line(section.heading, 4, 4, gap=True, stays=True)
    for block in section.blocks:
        yield from _block(block)
    for inner in section.sections:
        yield from _section(inner)


def _block(block: Block) -> Iterator[Line]:
    match block:
        case Paragraph(text):
            yield Line(text)
        case Items(items, ordered):
            for number, item in enumerate(items, 1):
                yield Line(f"{number}. {item}" if ordered else item, 0, 2)
        case Table(caption, head, rows):
            yield Line(f"{caption}:", 0, 0, gap=True, stays=True)
            for row in rows:
                yield Line(_row(head, row), 0, 2)


def _row(head: Sequence[str], row: Sequence[str]) -> str:
    """A row in words, every cell after its column's name."""
    if len(row) == 2:
        return f"{row[0]}: {row[1]}"
    named = [f"{name}: {cell}" for name, cell in zip(head[1:], row[1:], strict=True) if cell]
    return "; ".join([row[0], *named])


def _laid(line: Line, cells: str) -> list[str]:
    return textwrap.wrap(
        cells,
        CELLS,
        initial_indent=" " * line.first,
        break_on_hyphens=False,
        subsequent_indent=" " * line.others,
    ) or [""]


def _pages(lines: Sequence[Line], laid: Sequence[list[str]]) -> Iterator[list[str]]:
    """Rows of each page; a text that fits on a page is not broken, nor parted from its heading."""
    page: list[str] = []
    for at, (line, rows) in enumerate(zip(lines, laid, strict=True)):
        need, end = len(rows) + line.gap, at
        while lines[end].stays and end + 1 < len(lines):
            end += 1
            need += len(laid[end]) + lines[end].gap
        if page and len(page) + need > LINES - 1 and (need <= LINES - 1 or line.stays):
            yield page
            page = []
        page += [""] * (line.gap and bool(page)) + rows
        while len(page) > LINES - 1:
            yield page[: LINES - 1]
            page = page[LINES - 1 :]
    yield page


def _page(rows: Sequence[str], number: str) -> str:
    """A page with its number at the right of its last line."""
    filled = [*rows, *[""] * (LINES - 1 - len(rows)), number.rjust(CELLS)]
    return "".join(f"{row}\r\n" for row in filled) + "\f"
