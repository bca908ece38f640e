"""Finds the line of a key in a shape's TOML text."""

from __future__ import annotations

import re
from collections.abc import Iterator


def line_of(text: str, key: str, at: int | None) -> int:
    """Line of a key in part `at`, or in the head of the text if `at` is None.

    Without such a key it is the line where that part begins.
    """
    first = 1
    for number, part, line in _lines(text):
        if part == (-1 if at is None else at):
            if key and re.match(rf"\s*[\"']?{re.escape(key)}[\"']?\s*[=.]", line):
                return number
            if line.strip().startswith("[[") and at is not None:
                first = number
    return first


def _lines(text: str) -> Iterator[tuple[int, int, str]]:
    """Each line with its number and the index of its part; -1 before the first part."""
    part = -1
    for number, line in enumerate(text.splitlines(), 1):
        part += bool(re.match(r"\s*\[\[\s*part\s*\]\]", line))
        yield number, part, line
