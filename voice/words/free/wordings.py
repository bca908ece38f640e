"""The wordings that free wording is learnt from."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

WORDINGS = Path(__file__).with_name("wordings.txt")
"""As people write them."""
HEARD = Path(__file__).with_name("heard.txt")
"""Some of them as the net writes them down; see `voice.recognisers.net.learning`."""


def wordings(text: str) -> Iterator[tuple[str, str]]:
    """Meaning and wording of each line; a line in brackets names the meaning of those below it."""
    meaning = ""
    for line in text.splitlines():
        if line.startswith("["):
            meaning = line.strip("[]")
        elif line.strip():
            yield meaning, line
