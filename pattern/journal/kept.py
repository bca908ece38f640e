"""The pieces of a folder, found and read; that locks nothing, makes nothing, writes nothing."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from pattern.errors import BadPieceName, JournalError, JournalUnreadable, NoSuchPiece
from pattern.journal.disk import read_whole
from pattern.journal.lines import Turn, read_lines
from pattern.journal.records import Codec

E = TypeVar("E")
SUFFIX = ".jsonl"
"""Of the file of every piece."""
# The names Windows keeps for devices, with any suffix and in any case, are refused everywhere.
# Source: Microsoft, "Naming Files, Paths, and Namespaces".
_DEVICES = r"(con|prn|aux|nul|(com|lpt)[0-9\u00b9\u00b2\u00b3])"
_NAME = re.compile(rf"(?!{_DEVICES}$)[^\W_]([\w -]{{0,58}}[\w-])?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece found in a folder."""

    name: str
    last_at_iso: str | None
    """Time of its last turn; None without turns, or with a problem."""
    problem: JournalError | None
    """Why it cannot be read; None when it can."""


@contextmanager
def told_as(error: Callable[[Path, str], JournalError], path: Path) -> Iterator[None]:
    """Let what the system refuses within be told as that error of the path."""
    try:
        yield
    except OSError as fault:
        raise error(path, fault.strerror or str(fault)) from fault


def piece_path(folder: Path, name: str) -> Path:
    """The file of a piece, there or not; accents are composed (NFC). Raises: BadPieceName."""
    plain = unicodedata.normalize("NFC", name)
    if not _NAME.fullmatch(plain):
        raise BadPieceName(name)
    return folder / f"{plain}{SUFFIX}"


def is_kept(folder: Path, name: str) -> bool:
    """Whether anything of the name of a piece is there. Raises: BadPieceName, JournalUnreadable."""
    path = piece_path(folder, name)
    with told_as(JournalUnreadable, path):
        return path.exists() or path.is_symlink()


def read(folder: Path, name: str, codec: Codec[E]) -> tuple[Turn[E], ...]:
    """The turns of a piece, open elsewhere or not: it is only read, and nothing locked or made.

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
    """The pieces in a folder by name, without locking anything. Raises: JournalUnreadable."""
    with told_as(JournalUnreadable, folder):
        if not folder.exists():
            return ()
        files = sorted(path for path in folder.iterdir() if path.suffix == SUFFIX)
    found = (_piece(path, codec) for path in files)
    return tuple(piece for piece in found if _NAME.fullmatch(piece.name))
