"""Reads numbers on the command line: plain digits, finite, and within limits."""

from __future__ import annotations

import re
from argparse import ArgumentTypeError
from collections.abc import Callable

from voice.inputs.one_line import shown

_NUMBER = re.compile(r"[+-]?([0-9]{1,9}(\.[0-9]{0,9})?|\.[0-9]{1,9})")


def read_whole(text: str) -> int | None:
    """A whole number of 0 or more, in digits; None for anything else, or for too many digits."""
    return int(text) if re.fullmatch(r"[0-9]{1,9}", text) else None


def number(
    called: str, least: float, most: float, *, or_zero: bool = False
) -> Callable[[str], float]:
    """A reader of numbers from `least` to `most`, and of 0 with `or_zero`.

    For anything else the reader raises ArgumentTypeError, which says what to give.
    """

    def read(text: str) -> float:
        value = float(text) if _NUMBER.fullmatch(text) else None
        if value is None or not (least <= value <= most or (or_zero and value == 0)):
            range_ = f"{'0, or ' if or_zero else ''}{least:g} to {most:g}"
            raise ArgumentTypeError(f"{shown(text)!r} is no {called}; give {range_}")
        return value

    return read


def whole(called: str, least: int, most: int) -> Callable[[str], int]:
    """A reader of whole numbers from `least` to `most`; it raises ArgumentTypeError likewise."""

    def read(text: str) -> int:
        value = read_whole(text)
        if value is None or not least <= value <= most:
            raise ArgumentTypeError(f"{shown(text)!r} is no {called}; give {least} to {most}")
        return value

    return read
