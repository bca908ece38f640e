"""Words that were not understood, kept beside their piece for its maker alone."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pattern.session.decide_asides import here
from pattern.session.state import State

SUFFIX = ".unheard"
"""Of the file, which has the name of the piece."""
MOST_BYTES = 64 * 1024
"""A file of this size takes no more: some hundreds of sentences; our choice."""
_FIELDS = ("at", "said", "stage", "round")


@dataclass(frozen=True, slots=True)
class Unheard:
    """Words, and the place where they were said."""

    at: str
    said: str
    stage: str
    round: int


def file_of(journal: Path) -> Path:
    """The file of unheard words of the piece with that journal."""
    return journal.with_suffix(SUFFIX)


def keep(journal: Path, words: str, state: State, at_iso: str) -> None:
    """Put one line after the others, while the file is not full; no link is followed.

    Raises: OSError.
    """
    kept = {"at": at_iso, "said": words, "stage": state.stage.value, "round": here(state)}
    line = (json.dumps(kept, ensure_ascii=True) + "\n").encode()
    flags = os.O_WRONLY | os.O_CREAT | os.O_APPEND | getattr(os, "O_NOFOLLOW", 0)
    with os.fdopen(os.open(file_of(journal), flags, 0o600), "ab") as file:
        if file.seek(0, os.SEEK_END) + len(line) <= MOST_BYTES:
            file.write(line)


class Keeper:
    """Keeps words where that is wanted, until they cannot be kept."""

    def __init__(self, *, wanted: bool) -> None:
        """Keep none where none is wanted."""
        self._wanted = wanted

    def kept_or_why(self, journal: Path, words: str, state: State, at_iso: str) -> str:
        """Keep the words; nothing to say then, or why they cannot be kept, once."""
        if not self._wanted:
            return ""
        try:
            keep(journal, words, state, at_iso)
        except OSError as fault:
            self._wanted = False
            why = fault.strerror or fault
            return f"What I do not understand cannot be kept ({why}); all else is."
        return ""


def kept(folder: Path) -> Iterator[tuple[str, Unheard]]:
    """Name of the piece and words, of every file in a folder; others' lines are left out.

    Raises: OSError.
    """
    files = sorted(folder.glob(f"*{SUFFIX}")) if folder.exists() else []
    for file in files:
        with file.open("rb") as opened:
            lines = opened.read(MOST_BYTES).splitlines()
        for line in lines:
            if (found := _read(line)) is not None:
                yield file.stem, found


def _read(line: bytes) -> Unheard | None:
    try:
        data: Any = json.loads(line)
    except ValueError:
        return None
    if not isinstance(data, dict) or set(data) != set(_FIELDS):
        return None
    number = data["round"]
    texts = [data[field] for field in _FIELDS[:3]]
    if not all(isinstance(text, str) for text in texts) or type(number) is not int:
        return None
    at, said, stage = texts
    return Unheard(at, said, stage, number)
