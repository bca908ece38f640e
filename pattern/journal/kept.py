"""Finds and reads the pieces in a folder, without locking or writing anything."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from pattern.journal.disk import read_whole
from pattern.journal.journal_errors import (
    BadPieceName,
    JournalError,
    JournalUnreadable,
    NoSuchPiece,
)
from pattern.journal.lines import Turn, read_lines
from pattern.journal.records import Codec

E = TypeVar("E")
SUFFIX = ".jsonl"
"""Suffix of every piece's file."""
# Names reserved for devices on Windows, with any suffix and in any case, are refused everywhere.
# Source: Microsoft, "Naming Files, Paths, and Namespaces".
_DEVICES = r"(con|prn|aux|nul|(com|lpt)[0-9\u00b9\u00b2\u00b3])"
_NAME = re.compile(rf"(?!{_DEVICES}$)[^\W_]([\w -]{{0,58}}[\w-])?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece found in a folder."""

    name: str
    last_at_iso: str | None
    """Time of the last turn; None if it has no turns, or a problem."""
    problem: JournalError | None
    """Reason why it cannot be read; None if it can."""


@contextmanager
def told_as(error: Callable[[Path, str], JournalError], path: Path) -> Iterator[None]:
    """Turn an OSError within the block into the given error for the path."""
    try:
        yield
    except OSError as fault:
        raise error(path, fault.strerror or str(fault)) from fault


def piece_path(folder: Path, name: str) -> Path:
    """Path of a piece's file, which need not exist; accents are composed (NFC).

    Raises: BadPieceName.
    """
    plain = unicodedata.normalize("NFC", name)
    if not _NAME.fullmatch(plain):
        raise BadPieceName(name)
    return folder / f"{plain}{SUFFIX}"


def is_kept(folder: Path, name: str) -> bool:
    """Whether a file with the name of the piece exists. Raises: BadPieceName, JournalUnreadable."""
    path = piece_path(folder, name)
    with told_as(JournalUnreadable, path):
        return path.exists() or path.is_symlink()


def read(folder: Path, name: str, codec: Codec[E]) -> tuple[Turn[E], ...]:
    """The turns of a piece, which may be open elsewhere; nothing is locked or created.

    Raises: BadPieceName, NoSuchPiece, JournalDamaged, JournalNewer, NotAPiece, JournalUnreadable.
    """
    path = piece_path(folder, name)
    if not is_kept(folder, name):
        raise NoSuchPiece(name, folder)
    return _turns_in(path, codec)


def _turns_in(path: Path, codec: Codec[E]) -> tuple[Turn[E], ...]:
    with told_as(JournalUnreadable, path):
        return read_lines(path, read_whole(path), codec).turns


def _piece(path: Path, codec: Codec[E]) -> Piece:
    name = unicodedata.normalize("NFC", path.stem)
    try:
        turns = _turns_in(path, codec)
    except JournalError as problem:
        return Piece(name, None, problem)
    return Piece(name, turns[-1].at_iso if turns else None, None)


def pieces(folder: Path, codec: Codec[E]) -> tuple[Piece, ...]:
    """The pieces in a folder, sorted by name; nothing is locked. Raises: JournalUnreadable."""
    with told_as(JournalUnreadable, folder):
        if not folder.exists():
            return ()
        files = sorted(path for path in folder.iterdir() if path.suffix == SUFFIX)
    found = (_piece(path, codec) for path in files)
    return tuple(piece for piece in found if _NAME.fullmatch(piece.name))
