"""A file locked against other sessions; readers are never locked out."""

from __future__ import annotations

import errno
import os
import sys
from contextlib import nullcontext, suppress
from io import FileIO
from pathlib import Path

from pattern.journal.disk import all_of, opened, sync_folder, write
from pattern.journal.journal_errors import JournalLocked

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

_LOCKED_AT = 1 << 30
"""Offset of the byte that is locked on Windows. Locked bytes cannot be read there, so it lies
beyond the end of every piece."""
_TRIES = 8


def _lock(path: Path, file: FileIO) -> None:
    """Lock out other writers; flock(2) admits readers, and ends when the file is closed."""
    try:
        if sys.platform == "win32":
            file.seek(_LOCKED_AT)
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as fault:
        if fault.errno in (errno.EWOULDBLOCK, errno.EACCES, errno.EDEADLK):
            raise JournalLocked(path) from None
        raise


class HeldFile:
    """A file that only this session writes; other programs may still move or replace it."""

    def __init__(self, path: Path, *, create: bool) -> None:
        """Open the file and lock it; with `create`, make it if it does not exist.

        Raises: JournalLocked, NotAPiece, OSError (FileNotFoundError only without `create`).
        """
        self._path = path
        for _ in range(_TRIES):
            self.raw, self._made = self._try(create=create)
            try:
                _lock(path, self.raw)
                there = self._is_there()
            except BaseException:
                self.raw.close()
                raise
            if there:
                return
            self.raw.close()  # it was removed between opening and locking
        raise JournalLocked(path)

    def _try(self, *, create: bool) -> tuple[FileIO, bool]:
        flags = os.O_RDWR | os.O_APPEND
        with suppress(FileNotFoundError) if create else nullcontext():
            return opened(self._path, flags), False
        try:
            return opened(self._path, flags | os.O_CREAT | os.O_EXCL), True
        except FileExistsError:  # made by another process meanwhile, or a dangling link
            return opened(self._path, flags), False

    def _is_there(self) -> bool:
        try:
            return os.path.samestat(os.fstat(self.raw.fileno()), self._path.stat())
        except (FileNotFoundError, NotADirectoryError):
            return False

    def read(self) -> bytes:
        """Read the whole file. Raises: NotAPiece, OSError."""
        self.raw.seek(0)
        return all_of(self._path, self.raw)

    def sync(self) -> None:
        """Make the file and its name durable. Raises: OSError."""
        os.fsync(self.raw.fileno())
        sync_folder(self._path.parent)

    def strayed(self, end: int, behind: bytes) -> str:
        """Reason why this is no longer the file that was opened; empty if it still is.

        `end` is the number of bytes known to be written; any part of `behind` may follow them.
        """
        try:
            if not self._is_there():
                return "was moved, removed or replaced"
            self.raw.seek(0, os.SEEK_END)
            if self.raw.tell() < end:
                return "was cut short by another program"
            self.raw.seek(end)
            if not behind.startswith(self.raw.read(len(behind) + 1)):
                return "was written by another program"
        except OSError as fault:
            return f"can no longer be reached ({fault.strerror or fault})"
        return ""

    def lost(self, end: int, behind: bytes) -> str:
        """Reason why the content is no longer on disk; empty if it is, even under another name."""
        if self.raw.closed or not (why := self.strayed(end, behind)):
            return ""
        found = os.fstat(self.raw.fileno())
        return "" if found.st_nlink and found.st_size == end + len(behind) else why

    def append(self, end: int, line: bytes, behind: bytes) -> None:
        """Write a line after the first `end` bytes, durably or not at all. Raises: OSError."""
        try:
            if behind:  # a torn line, or the rest of an interrupted append
                self.raw.truncate(end)
            write(self.raw, line)
        except OSError:
            with suppress(OSError):  # if this fails too, the next append truncates first
                self.raw.truncate(end)
                os.fsync(self.raw.fileno())
            raise

    def close(self) -> None:
        """Close the file and release the lock; closing twice is harmless."""
        self.raw.close()

    def withdraw(self) -> None:
        """Close the file, and remove it if it was created here and still exists."""
        if self._made and not self.raw.closed and self._is_there():
            if os.name == "nt":  # Windows removes no open file
                self.raw.close()
            with suppress(OSError):  # then it stays, and nothing in it was confirmed to the maker
                self._path.unlink()
        self.raw.close()
