"""Reads TOML from an untrusted author within size limits, and refuses the rest."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from pattern.errors import RoundsAloudError

LONGEST_CHARACTERS = 65_536
"""Longer than any real shape or scenario, by judgement."""
DEEPEST = 8
"""Deepest nesting of tables; ours use three levels. By judgement."""
LARGEST = 10**9
"""Larger than any whole number that we use, by judgement."""


class BadToml(RoundsAloudError, ValueError):  # noqa: N818 - it reads as what happened
    """A text that is not valid TOML, or exceeds the limits."""

    def __init__(self, line: int, why: str) -> None:
        """`line` counts from 1; `why` says what to write instead."""
        super().__init__(f"line {line}: {why}")
        self.line = line
        self.why = why


def read_toml(text: str) -> dict[str, Any]:
    """Parse a text into its tables. Raises: BadToml."""
    if len(text) > LONGEST_CHARACTERS:
        raise BadToml(1, f"write no more than {LONGEST_CHARACTERS} characters")
    try:
        found = tomllib.loads(text)
    except tomllib.TOMLDecodeError as refusal:
        at = re.search(r"at line (\d+)", str(refusal))
        line = int(at.group(1)) if at else text.count("\n") + 1
        raise BadToml(line, "this is no TOML; write key = value") from refusal
    except RecursionError as refusal:
        raise BadToml(_first(text, r"[\[{]{9}"), "write fewer brackets") from refusal
    except ValueError as refusal:  # more digits or a later date than Python accepts
        raise BadToml(_first(text, r"\d{4}"), "write a number of fewer digits") from refusal
    _check(found, text)
    return found


def _check(found: dict[str, Any], text: str) -> None:
    """Check all values, without recursion. Raises: BadToml."""
    waiting: list[tuple[object, int]] = [(found, 0)]
    while waiting:
        value, depth = waiting.pop()
        if depth > DEEPEST:
            raise BadToml(_first(text, r"[\[{.]"), "write fewer tables within tables")
        if isinstance(value, int) and abs(value) > LARGEST:
            raise BadToml(_first(text, r"\d{10}|0[xob]"), "write a number of fewer digits")
        if isinstance(value, dict | list):
            inner = value.values() if isinstance(value, dict) else value
            waiting += [(each, depth + 1) for each in inner]


def _first(text: str, pattern: str) -> int:
    """Line of the first match of the pattern; 1 if there is none."""
    found = re.search(pattern, text)
    return text.count("\n", 0, found.start()) + 1 if found else 1
