"""One file held against other sessions; who only reads is kept out by nothing."""

from __future__ import annotations

import errno
import os
import sys
from contextlib import nullcontext, suppress
from io import FileIO
from pathlib import Path

from pattern.errors import JournalLocked
from pattern.journal.disk import all_of, opened, sync_folder, write

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

_LOCKED_AT = 1 << 30
"""Windows lets nobody read locked bytes, so the one locked there lies beyond every piece."""
_TRIES = 8


def _lock(path: Path, file: FileIO) -> None:
    """Let no other session write: flock(2) keeps no reader out, and ends with the file."""
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
    """One file that only this session writes, and that may be taken from under it all the same."""

    def __init__(self, path: Path, *, create: bool) -> None:
        """Open it, made where it was not there, and lock it.

        Raises: JournalLocked, NotAPiece, OSError (FileNotFoundError only without `create`).
        """
        self._path = path
        for _ in range(_TRIES):
            self.raw, self._made = self._try(create)
            try:
                _lock(path, self.raw)
                there = self._is_there()
            except BaseException:
                self.raw.close()
                raise
            if there:
                return
            self.raw.close()  # it was taken away between opening and locking
        raise JournalLocked(path)

    def _try(self, create: bool) -> tuple[FileIO, bool]:
        flags = os.O_RDWR | os.O_APPEND
        with suppress(FileNotFoundError) if create else nullcontext():
            return opened(self._path, flags), False
        try:
            return opened(self._path, flags | os.O_CREAT | os.O_EXCL), True
        except FileExistsError:  # made by another between the two, or a link to nothing
            return opened(self._path, flags), False

    def _is_there(self) -> bool:
        try:
            return os.path.samestat(os.fstat(self.raw.fileno()), self._path.stat())
        except (FileNotFoundError, NotADirectoryError):
            return False

    def read(self) -> bytes:
        """All of it. Raises: NotAPiece, OSError."""
        self.raw.seek(0)
        return all_of(self._path, self.raw)

    def sync(self) -> None:
        """Put what it holds, and its name, on the disk. Raises: OSError."""
        os.fsync(self.raw.fileno())
        sync_folder(self._path.parent)

    def strayed(self, end: int, behind: bytes) -> str:
        """Why it is no longer the file that was opened; empty while it is.

        `end` is how many bytes it holds for certain, and of `behind` any part may follow them.
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
        """Why what it held is on the disk no more; empty where it is, if under another name."""
        if self.raw.closed or not (why := self.strayed(end, behind)):
            return ""
        found = os.fstat(self.raw.fileno())
        return "" if found.st_nlink and found.st_size == end + len(behind) else why

    def append(self, end: int, line: bytes, behind: bytes) -> None:
        """Write a line behind the first `end` bytes, for certain or not at all. Raises: OSError."""
        try:
            if behind:  # a torn line, or what an interrupted append left
                self.raw.truncate(end)
            write(self.raw, line)
        except OSError:
            with suppress(OSError):  # if this fails too, the next append cuts first
                self.raw.truncate(end)
                os.fsync(self.raw.fileno())
            raise

    def close(self) -> None:
        """Close it and let it go; closing twice does no harm."""
        self.raw.close()

    def withdraw(self) -> None:
        """Close it, and take it away where it was made here and is still there."""
        if self._made and not self.raw.closed and self._is_there():
            if os.name == "nt":  # which removes no open file
                self.raw.close()
            with suppress(OSError):  # then it stays, with nothing in it that was answered
                self._path.unlink()
        self.raw.close()
