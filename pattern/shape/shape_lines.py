"""The line on which a key stands in a TOML text of repeated tables, such as a shape."""

from __future__ import annotations

import re
from collections.abc import Iterator


def line_of(text: str, key: str, at: int | None, table: str = "part") -> int:
    """Line of a key in the table of that number, or else the line where that table begins.

    `at` counts the tables of that name from 0; None is the head of the text, before the first.
    """
    first = 1
    for number, part, line in _lines(text, table):
        if part == (-1 if at is None else at):
            if key and re.match(rf"\s*[\"']?{re.escape(key)}[\"']?\s*[=.]", line):
                return number
            if line.strip().startswith("[[") and at is not None:
                first = number
    return first


def _lines(text: str, table: str) -> Iterator[tuple[int, int, str]]:
    """Every line with its number and the table that it belongs to; -1 before the first."""
    part = -1
    for number, line in enumerate(text.splitlines(), 1):
        part += bool(re.match(rf"\s*\[\[\s*{table}\s*\]\]", line))
        yield number, part, line
