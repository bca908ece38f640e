"""A document as a tree, and its output as plain text or JSON."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass

from pattern.trade.stitches import Terms

LANGUAGES = {Terms.US: "en-US", Terms.UK: "en-GB"}
"""Language tags for the two dialects of stitch terms. Source: BCP 47 (RFC 5646)."""


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text."""

    text: str


@dataclass(frozen=True, slots=True)
class Items:
    """A list, numbered if the order matters; items that are rounds carry their own number."""

    items: tuple[str, ...]
    ordered: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table with column heads; the first cell of each row is its name."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


Block = Paragraph | Items | Table


@dataclass(frozen=True, slots=True)
class Section:
    """Blocks under a heading, and subsections."""

    heading: str
    blocks: tuple[Block, ...] = ()
    sections: tuple[Section, ...] = ()


@dataclass(frozen=True, slots=True)
class Writeup:
    """A whole document, in the maker's stitch terms."""

    title: str
    terms: Terms
    sections: tuple[Section, ...]

    @property
    def language(self) -> str:
        """The language tag of the text."""
        return LANGUAGES[self.terms]


def as_json(writeup: Writeup) -> str:
    """The document as one JSON object; each block states its kind."""
    content = {
        "title": writeup.title,
        "terms": writeup.terms.value,
        "language": writeup.language,
        "sections": [_section_data(section) for section in writeup.sections],
    }
    return json.dumps(content, ensure_ascii=False, indent=1)


def _section_data(section: Section) -> dict[str, object]:
    blocks = [{"kind": type(block).__name__.lower(), **asdict(block)} for block in section.blocks]
    return {
        "heading": section.heading,
        "blocks": blocks,
        "sections": [_section_data(inner) for inner in section.sections],
    }


def as_text(writeup: Writeup, width: int = 72) -> str:
    """The document as plain lines of at most `width` characters, with a final newline.

    Only words longer than a line are broken. Raises: ValueError for a width below 20.
    """
    if width < 20:
        raise ValueError(f"{width} characters are too few for a line")
    lines = [*_heading(writeup.title, "=", width)]
    for section in writeup.sections:
        lines += _section_lines(section, width, 0)
    return "\n".join(lines) + "\n"


def _section_lines(section: Section, width: int, depth: int) -> Iterator[str]:
    yield ""
    yield from _heading(section.heading, "-" if depth == 0 else "", width)
    for block in section.blocks:
        yield ""
        yield from _block_lines(block, width)
    for inner in section.sections:
        yield from _section_lines(inner, width, depth + 1)


def _heading(text: str, rule: str, width: int) -> list[str]:
    lines = _wrapped(text, width)
    return [*lines, rule * max(map(len, lines))] if rule else lines


def _block_lines(block: Block, width: int) -> Iterator[str]:
    match block:
        case Paragraph(text):
            yield from _wrapped(text, width)
        case Items(items, ordered):
            for number, item in enumerate(items, 1):
                yield from _wrapped(f"{number}. {item}" if ordered else item, width, hang=2)
        case Table(caption, head, rows):
            yield from _wrapped(f"{caption}:", width)
            yield from _table_lines(head, rows, width)


def _table_lines(
    head: tuple[str, ...], rows: Sequence[tuple[str, ...]], width: int
) -> Iterator[str]:
    """Columns if they fit; otherwise each row as text, with each cell after its column's name."""
    grid = [head, *rows]
    widths = [max(len(row[i]) for row in grid) for i in range(len(head))]
    if sum(widths) + 2 * (len(widths) - 1) <= width:
        for row in grid:
            cells = (cell.ljust(size) for cell, size in zip(row, widths, strict=True))
            yield "  ".join(cells).rstrip()
        return
    for row in rows:
        if len(row) == 2:
            yield from _wrapped(f"{row[0]}: {row[1]}", width, hang=2)
            continue
        named = [f"{name}: {cell}" for name, cell in zip(head[1:], row[1:], strict=True) if cell]
        yield from _wrapped("; ".join([row[0], *named]), width, hang=2)


def _wrapped(text: str, width: int, hang: int = 0) -> list[str]:
    return textwrap.wrap(text, width, subsequent_indent=" " * hang, break_on_hyphens=False) or [""]
