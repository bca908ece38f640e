"""Conversations in the documents: what the maker says after `> `, the answer on the line below."""

from __future__ import annotations

import re
from pathlib import Path

from tests.golden.reading import replies

ROOT = Path(__file__).parents[1]
FILES = (ROOT / "README.md", ROOT / "voice" / "manual" / "dialogue.md")
_TURN = re.compile(r"^    > (.+)\n    (.*)$", re.MULTILINE)


def turns(text: str) -> list[tuple[str, str]]:
    """Each line of the maker, and the answer printed under it."""
    return _TURN.findall(text)


def answered(text: str) -> str:
    """The document with the answers that the program gives now."""
    said = replies([maker for maker, _ in turns(text)])
    next(said)
    return _TURN.sub(lambda turn: f"    > {turn[1]}\n    {next(said)}", text)
