"""File access for journals: regular files only, bounded reads, and durable writes."""

from __future__ import annotations

import errno
import os
import stat
from contextlib import suppress
from io import FileIO
from pathlib import Path

from pattern.journal.journal_errors import NotAPiece

MOST_BYTES = 64 * 1024 * 1024
"""A larger file is not a piece. By judgement: over a hundred times the longest piece."""
_WAITS = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOCTTY", 0)
"""Flags that avoid waiting, in case a pipe or terminal replaces a file after the check."""
_PLAIN = getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0)


def sync_folder(folder: Path) -> None:
    """Make the entries of a folder durable."""
    if os.name != "nt":  # Windows opens no folders; from memory, NTFS logs new entries by itself
        number = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(number)
        finally:
            os.close(number)


def make_folder(folder: Path) -> None:
    """Make a folder and its parents durably; new folders are private to their owner."""
    new = [path for path in (folder, *folder.parents) if not path.exists()]
    for path in reversed(new):
        path.mkdir(0o700, exist_ok=True)
    for path in new:
        sync_folder(path.parent)


def _check(path: Path, found: os.stat_result) -> None:
    if not stat.S_ISREG(found.st_mode):
        raise NotAPiece(path, "it is no regular file")
    if found.st_size > MOST_BYTES:
        raise NotAPiece(path, f"it is larger than {MOST_BYTES >> 20} MB")


def opened(path: Path, flags: int) -> FileIO:
    """Open a regular file with flags of os.open; a device is not opened, as that may change it.

    Raises: NotAPiece, OSError.
    """
    if not flags & os.O_CREAT:
        _check(path, path.stat())
    mode = "a+" if flags & os.O_RDWR else "r"
    file = FileIO(path, mode, opener=lambda name, _: os.open(name, flags | _WAITS | _PLAIN, 0o600))
    try:
        _check(path, os.fstat(file.fileno()))
    except BaseException:
        file.close()
        raise
    return file


def all_of(path: Path, file: FileIO) -> bytes:
    """Read from the current position to the end.

    Bytes are counted, because some files claim to be empty and never end.

    Raises: NotAPiece, OSError.
    """
    data = bytearray()
    while block := file.read(MOST_BYTES + 1 - len(data)):
        data += block
        if len(data) > MOST_BYTES:
            raise NotAPiece(path, f"it is larger than {MOST_BYTES >> 20} MB")
    return bytes(data)


def read_whole(path: Path) -> bytes:
    """Read all bytes of a regular file, opened read-only. Raises: NotAPiece, OSError."""
    with opened(path, os.O_RDONLY) as file:
        return all_of(path, file)


def write_new(path: Path, data: bytes) -> None:
    """Write a new file durably or leave none. Raises: OSError, also if the file exists."""
    make_folder(path.parent)
    with opened(path, os.O_RDWR | os.O_APPEND | os.O_CREAT | os.O_EXCL) as file:
        try:
            write(file, data)
            sync_folder(path.parent)
        except BaseException:
            with suppress(OSError):
                path.unlink()
            raise


def write(file: FileIO, data: bytes) -> None:
    """Write all the data durably. Raises: OSError."""
    if (written := file.write(data)) != len(data):
        raise OSError(errno.ENOSPC, f"room for only {written} of {len(data)} bytes")
    os.fsync(file.fileno())
