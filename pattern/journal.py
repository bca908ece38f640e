"""One file a piece, one line a turn; the only module of this package that opens files."""

from __future__ import annotations

import errno
import os
import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Generic, Self, TypeVar

from filelock import FileLock, Timeout

from pattern.errors import (
    BadPieceName,
    JournalError,
    JournalLocked,
    JournalUnreadable,
    JournalUnwritable,
    NoSuchPiece,
)
from pattern.lines import Kept, Turn, read_lines, write_line
from pattern.records import Codec

E = TypeVar("E")
_SUFFIX = ".jsonl"
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
def _told_as(error: Callable[[Path, str], JournalError], path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as fault:
        raise error(path, fault.strerror or str(fault)) from fault


def _sync_folder(folder: Path) -> None:
    if os.name != "nt":  # Windows opens no folders; from memory, NTFS logs new entries by itself
        number = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(number)
        finally:
            os.close(number)


def _make_folder(folder: Path) -> None:
    new = [path for path in (folder, *folder.parents) if not path.exists()]
    for path in reversed(new):
        path.mkdir(0o700, exist_ok=True)
    for path in new:
        _sync_folder(path.parent)


def piece_path(folder: Path, name: str) -> Path:
    """The file of a piece, there or not; accents are composed (NFC). Raises: BadPieceName."""
    plain = unicodedata.normalize("NFC", name)
    if not _NAME.fullmatch(plain):
        raise BadPieceName(name)
    return folder / f"{plain}{_SUFFIX}"


class Journal(Generic[E]):
    """The turns of one piece, locked against other sessions while open; a context manager."""

    def __init__(self, path: Path, codec: Codec[E]) -> None:
        """Lock, read and check the file; prefer `Journal.open`."""
        self.path = path
        self._codec = codec
        with ExitStack() as held:
            with _told_as(JournalUnwritable, path):
                _make_folder(path.parent)
                lock = FileLock(path.with_suffix(".lock"), mode=0o600, blocking=False,
                                thread_local=False)  # fmt: skip
                try:
                    held.enter_context(lock)
                except Timeout:
                    raise JournalLocked(path) from None
                os.close(os.open(path, os.O_WRONLY | os.O_CREAT, 0o600))  # for its owner alone
                self._file = held.enter_context(path.open("a+b", buffering=0))
            with _told_as(JournalUnreadable, path):
                self._file.seek(0)
                data = self._file.read()
            self._kept = read_lines(path, data, codec)
            self.dropped_tail = self._kept.end < len(data)
            with _told_as(JournalUnwritable, path):
                # What a session that died had written but not yet synced is now going to be told.
                os.fsync(self._file.fileno())
                _sync_folder(path.parent)
            self._held = held.pop_all()

    @classmethod
    def open(cls, folder: Path, name: str, codec: Codec[E], *, create: bool = True) -> Self:
        """Open a piece; by default a new one, with its folders, is made where there is none.

        A torn last line stays in the file until the next append: opening only looks, so it changes
        nothing, works on a full disk, and leaves whatever is there for a closer look.
        Raises: BadPieceName, NoSuchPiece (only without `create`), JournalLocked, JournalDamaged,
        JournalNewer, JournalUnreadable, JournalUnwritable.
        """
        path = piece_path(folder, name)
        if not create and not path.is_file():
            raise NoSuchPiece(name, folder)
        return cls(path, codec)

    @property
    def turns(self) -> tuple[Turn[E], ...]:
        """All turns kept so far: those read, then those appended."""
        return self._kept.turns

    def append(self, events: Iterable[E], at_iso: str) -> None:
        """Put one turn on the disk, whole; when this returns it will survive a loss of power.

        Raises: BadRecord or ValueError (a bad time) before anything is written; JournalUnwritable
        when the disk refuses: then the turn is not kept, and a later append may succeed.
        """
        kept, turn = self._kept, Turn(tuple(events), at_iso)
        missing_end = b"" if kept.ended else b"\n"
        line = missing_end + write_line(self._codec, len(kept.turns) + 1, turn)
        with _told_as(JournalUnwritable, self.path):
            try:
                self._file.truncate(kept.end)  # a torn line, or what an interrupted append left
                if (written := self._file.write(line)) != len(line):
                    raise OSError(errno.ENOSPC, f"room for only {written} of {len(line)} bytes")
                os.fsync(self._file.fileno())
            except OSError:
                with suppress(OSError):  # if this fails too, the next append cuts first
                    self._file.truncate(kept.end)
                    os.fsync(self._file.fileno())
                raise
        self._kept = Kept((*kept.turns, turn), kept.end + len(line))

    def close(self) -> None:
        """Close the file and let other sessions have it; closing twice does no harm."""
        self._held.close()

    def __enter__(self) -> Self:
        """The journal itself."""
        return self

    def __exit__(self, *_: object) -> None:
        """Close it."""
        self.close()


def _piece(path: Path, codec: Codec[E]) -> Piece:
    name = unicodedata.normalize("NFC", path.stem)
    try:
        with _told_as(JournalUnreadable, path):
            turns = read_lines(path, path.read_bytes(), codec).turns
    except JournalError as problem:
        return Piece(name, None, problem)
    return Piece(name, turns[-1].at_iso if turns else None, None)


def pieces(folder: Path, codec: Codec[E]) -> tuple[Piece, ...]:
    """The pieces in a folder by name, without locking anything. Raises: JournalUnreadable."""
    if not folder.exists():
        return ()
    with _told_as(JournalUnreadable, folder):
        files = sorted(path for path in folder.iterdir() if path.suffix == _SUFFIX)
    found = (_piece(path, codec) for path in files if path.is_file())
    return tuple(piece for piece in found if _NAME.fullmatch(piece.name))
