"""The write-up on paper, printed by a real browser: few sheets, well filled, no heading alone.

The figures are our choice: at most four sheets for a hat in regular print, and none but the last
less than a third full.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, partial
from pathlib import Path

import pytest
from pypdf import PageObject, PdfReader

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.catalogue import SHAPES
from pattern.trade.lengths import Amount, Unit
from pattern.writeup.document import Section, Writeup
from pattern.writeup.drawing import LARGE, REGULAR, Letters
from pattern.writeup.edition import Edition
from pattern.writeup.html import STYLES, as_html
from pattern.writeup.writeup import as_made
from tests.bench.long_piece import WIDEST
from tests.pieces import NEXT, begun, told
from tests.test_page import run_browser

PAPERS = {"A4": (595, 842), "letter": (612, 792)}
"""Points of the papers. Source: ISO 216, ANSI/ASME Y14.1."""
MARGIN_PT, LINE_PT = 18 / 25.4 * 72, 9.0
"""The widest margin, and less than the height of a line."""


def measured() -> State:
    """A hat in work, with readings and notes."""
    return told(
        begun(),
        *[NEXT] * 9,
        c.Measured(Amount(13.0, 0.5, Unit.CM), c.Kind.ACROSS),
        *[NEXT] * 9,
        c.Measured(Amount(55.0, 0.5, Unit.CM), c.Kind.AROUND),
        *[NEXT] * 12,
        c.Note("for the garden"),
        c.AlsoFor(Amount(52.0, 1.0, Unit.CM)),
    )


PIECES: dict[str, Callable[[], State]] = {
    **{shape.name: partial(begun, shape=shape.name) for shape in SHAPES},
    "fine hat": lambda: begun(yarn=2, hook_mm=3.0, joined=True, stacked=True),
    "tall stitches": lambda: begun(stitch="treble", joined=True, ball_g=50.0, fibre="wool"),
    "decorated": lambda: told(begun(fibre="cotton"), *map(c.Decorate, c.Decoration)),
    "in work": measured,
    "of 200 rounds": lambda: begun(**WIDEST),
}

ON_BOTH = {"brimmed hat", "close cap", "all"}
"""Pieces that are printed on both papers; the others on one each, to be quick."""


@cache
def writeups(letters: Letters) -> tuple[Writeup, ...]:
    """The pieces as patterns, and one with everything; of large print only some."""
    made = [
        as_made(state(), name, Edition(letters))
        for name, state in PIECES.items()
        if letters is REGULAR or name == "beret"
    ]
    whole = Edition(letters, readings=True, as_worked=True)
    return (*made, as_made(measured(), "all", whole))


@dataclass(frozen=True)
class Text:
    """A piece of text on a sheet."""

    y_pt: float
    """From the foot of the sheet."""
    words: str


@dataclass(frozen=True)
class Sheet:
    """A printed sheet."""

    height_pt: float
    texts: tuple[Text, ...]
    """Without the number of the sheet, which stands in the margin."""

    @property
    def foot_pt(self) -> float:
        """Where the last line stands."""
        return min(one.y_pt for one in self.texts)

    @property
    def filled(self) -> float:
        """Share of the height within the margins that has text."""
        return (self.height_pt - MARGIN_PT - self.foot_pt) / (self.height_pt - 2 * MARGIN_PT)


def sheet(page: PageObject) -> Sheet:
    """The text of a page as it was printed."""
    texts: list[Text] = []

    def found(words: str, matrix: list[float], line: list[float], *_: object) -> None:
        y_pt = matrix[3] * line[5] + matrix[5]
        if words.strip() and y_pt > MARGIN_PT / 2:
            texts.append(Text(y_pt, words.replace("\u00a0", " ").strip()))

    page.extract_text(visitor_text=found)
    return Sheet(float(page.mediabox.height), tuple(texts))


def printed(folder: Path, letters: Letters) -> dict[tuple[str, str], list[Sheet]]:
    """The sheets of the write-ups by paper and title, all printed at once."""
    mains = {
        one.title: re.sub(r"^.*<main>|</main>.*$", "", as_html(one, letters), flags=re.S)
        for one in writeups(letters)
    }
    pages = "".join(f"@page {paper} {{ size: {paper}; }}" for paper in PAPERS)
    bodies = "".join(
        f"<main style='page: {paper}; break-before: page'>{main}</main>"
        for number, paper in enumerate(PAPERS)
        for at, (title, main) in enumerate(mains.items())
        if title in ON_BOTH or at % len(PAPERS) == number
    )
    html = f"<!DOCTYPE html><meta charset=utf-8><style>{STYLES[letters]}{pages}</style>{bodies}"
    (folder / "all.html").write_text(html, "utf-8")
    run_browser(
        folder,
        "--no-pdf-header-footer",
        f"--print-to-pdf={folder / 'all.pdf'}",
        (folder / "all.html").as_uri(),
    )
    found: dict[tuple[str, str], list[Sheet]] = {}
    key = ("", "")
    for page in PdfReader(folder / "all.pdf").pages:
        size = (round(float(page.mediabox.width)), round(float(page.mediabox.height)))
        paper = next(name for name, pt in PAPERS.items() if pt == size)
        made = sheet(page)
        if made.texts[0].words.startswith("Crochet pattern"):
            key = (paper, made.texts[1].words)
        found.setdefault(key, []).append(made)
    return found


@pytest.fixture(scope="module")
def regular(tmp_path_factory: pytest.TempPathFactory) -> dict[tuple[str, str], list[Sheet]]:
    """The sheets in regular print."""
    return printed(tmp_path_factory.mktemp("regular"), REGULAR)


def test_a_hat_is_on_four_sheets_at_the_most(
    regular: dict[tuple[str, str], list[Sheet]],
) -> None:
    assert {paper for paper, _ in regular} == set(PAPERS)
    assert {title for _, title in regular} == {*PIECES, "all"}
    for (paper, title), sheets in regular.items():
        if title in {shape.name for shape in SHAPES} | {"fine hat", "tall stitches", "decorated"}:
            assert len(sheets) <= 4, (paper, title)


def test_no_sheet_but_the_last_is_under_a_third_full(
    regular: dict[tuple[str, str], list[Sheet]],
) -> None:
    for of, sheets in regular.items():
        assert all(one.filled >= 1 / 3 for one in sheets[:-1]), (
            of,
            [round(one.filled, 2) for one in sheets],
        )


def headings(sections: Sequence[Section]) -> set[str]:
    """All headings of the sections and of those in them."""
    own = {one.heading for one in sections}
    return own.union(*(headings(one.sections) for one in sections))


def alone(made: Sheet, known: set[str]) -> list[str]:
    """Headings of a sheet below or beside which nothing stands."""
    others = [one.y_pt for one in made.texts if one.words not in known]
    return [
        one.words
        for one in made.texts
        if one.words in known and min(others, default=1e9) > one.y_pt + LINE_PT / 2
    ]


@pytest.mark.parametrize("letters", [REGULAR, LARGE], ids=["regular", "large"])
def test_no_heading_stands_alone_at_the_foot(
    letters: Letters, request: pytest.FixtureRequest, tmp_path: Path
) -> None:
    found = request.getfixturevalue("regular") if letters is REGULAR else printed(tmp_path, letters)
    known = set[str]().union(*(headings(one.sections) for one in writeups(letters)))
    assert len(known) > 10
    for of, sheets in found.items():
        assert not [each for one in sheets for each in alone(one, known)], of


def test_a_heading_alone_would_be_found() -> None:
    known = {"Brim"}
    below = (Text(700, "Round 1"), Text(60, "Brim"))
    assert alone(Sheet(842, below), known) == ["Brim"]
    beside = (*below, Text(61, "Round 26"))
    assert alone(Sheet(842, beside), known) == []
