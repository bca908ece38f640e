"""A document as plain text."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

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


def as_text(writeup: Writeup, width: int = 72) -> str:
    """The document as plain lines of at most `width` characters, with a final newline.

    Only words longer than a line are broken. Raises: ValueError for a width below 20.
    """
    if width < 20:
        raise ValueError(f"{width} characters are too few for a line")
    lines = [*_heading(writeup.title, "=", width)]
    for words in filter(None, (writeup.kind, writeup.about)):
        lines += ["", *_wrapped(words, width)]
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
        case Figure():
            yield from _wrapped(block.text, width)
        case Items(items, ordered):
            for number, item in enumerate(items, 1):
                yield from _wrapped(f"{number}. {item}" if ordered else item, width, hang=2)
        case Facts(facts):
            for name, value in facts:
                yield from _wrapped(f"{name}: {value}", width, hang=2)
        case Steps(steps):
            for step in steps:
                yield from _wrapped(step.text, width, hang=2)
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
        yield from _wrapped(row_in_words(head, row), width, hang=2)


def row_in_words(head: Sequence[str], row: Sequence[str]) -> str:
    """A row as text, with each cell after its column's name."""
    if len(row) == 2:
        return f"{row[0]}: {row[1]}"
    named = [f"{name}: {cell}" for name, cell in zip(head[1:], row[1:], strict=True) if cell]
    return "; ".join([row[0], *named])


def _wrapped(text: str, width: int, hang: int = 0) -> list[str]:
    return textwrap.wrap(text, width, subsequent_indent=" " * hang, break_on_hyphens=False) or [""]
