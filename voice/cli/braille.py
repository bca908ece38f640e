"""A document for an embosser: pages of braille cells in ASCII.

The liblouis program does the translation; this module only does the layout.
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
from pattern.writeup.document import (
    Block,
    Facts,
    Figure,
    Items,
    Paragraph,
    Section,
    Steps,
    Table,
    Writeup,
)
from pattern.writeup.plain_text import row_in_words

CELLS, LINES = 40, 25
"""Cells in a line and lines on a page. Common practice for embossed letter paper, no source."""
PROGRAM = "lou_translate"
_WAIT_S = 60.0


class Braille(StrEnum):
    """Braille codes; the value is liblouis's table."""

    CONTRACTED = "en-ueb-g2.ctb"
    UNCONTRACTED = "en-ueb-g1.ctb"
    US_CONTRACTED = "en-us-g2.ctb"
    """The older American code, for people who learned it."""
    US_UNCONTRACTED = "en-us-g1.ctb"


@dataclass(eq=False)
class NoBraille(RoundsAloudError):
    """The braille translation program is missing, or failed."""

    why: str

    says = (
        "Braille cannot be written ({self.why}); install liblouis with its programs "
        "(Debian: apt install liblouis-bin) or choose another format."
    )


@dataclass(frozen=True, slots=True)
class Line:
    """One text to lay out, with the indents of its first and of its other lines, in cells."""

    text: str
    first: int = 2
    others: int = 0
    gap: bool = False
    """An empty line before it, except at the top of a page."""
    stays: bool = False
    """Keep it on the same page as the text that follows."""


def as_brf(writeup: Writeup, braille: Braille = Braille.CONTRACTED) -> str:
    """The document in North American ASCII braille, in pages of 40 cells by 25 lines.

    Pages end with a form feed. A round is kept on one page if it fits. Raises: NoBraille without
    liblouis.
    """
    lines = list(_lines(writeup))
    cells = translated([line.text for line in lines], braille)
    numbers = translated([str(page) for page in range(1, len(lines) + 2)], braille)
    laid = [_laid(line, text) for line, text in zip(lines, cells, strict=True)]
    return "".join(
        _page(page, number) for page, number in zip(_pages(lines, laid), numbers, strict=False)
    )


def translated(texts: Sequence[str], braille: Braille) -> list[str]:
    """Each text in ASCII braille, on one line of any length. Raises: NoBraille.

    A character without braille is given as its code point in quotes.
    """
    where = shutil.which(PROGRAM)
    # Windows searches the current folder first; a program there is not the installed one.
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
    r"""The text in lines that are short enough for the program, with plain spaces.

    The program cuts a line after about 2,000 characters (seen with version 3.24). Backslashes are
    doubled, since it reads them as escapes.
    """
    lines = textwrap.wrap(" ".join(text.split()), 400, break_on_hyphens=False) or [""]
    return [line.replace("\\", "\\\\") for line in lines]


def _lines(writeup: Writeup) -> Iterator[Line]:
    """Headings, paragraphs and lists, with the indents of braille formats.

    Minor headings begin at cell 5 and paragraphs at cell 3; list items continue at cell 3. Source:
    Braille Authority of North America, Braille Formats, 2016 (from memory).
    """
    yield Line(writeup.title, 4, 4, stays=True)
    yield from map(Line, filter(None, (writeup.kind, writeup.about)))
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
        case Figure():
            yield Line(block.text)
        case Facts(facts):
            yield from (Line(f"{name}: {value}", 0, 2) for name, value in facts)
        case Steps(steps):
            yield from (Line(step.text, 0, 2) for step in steps)
        case Items(items, ordered):
            for number, item in enumerate(items, 1):
                yield Line(f"{number}. {item}" if ordered else item, 0, 2)
        case Table(caption, head, rows):
            yield Line(f"{caption}:", 0, 0, gap=True, stays=True)
            for row in rows:
                yield Line(row_in_words(head, row), 0, 2)


def _laid(line: Line, cells: str) -> list[str]:
    return textwrap.wrap(
        cells,
        CELLS,
        initial_indent=" " * line.first,
        break_on_hyphens=False,
        subsequent_indent=" " * line.others,
    ) or [""]


def _pages(lines: Sequence[Line], laid: Sequence[list[str]]) -> Iterator[list[str]]:
    """Rows of each page; a text that fits on a page is kept whole and with its heading."""
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
    """A page with its number at the right end of the last line."""
    filled = [*rows, *[""] * (LINES - 1 - len(rows)), number.rjust(CELLS)]
    return "".join(f"{row}\r\n" for row in filled) + "\f"
