"""Files as pieces need them: regular ones only, read in a bounded way, written for certain."""

from __future__ import annotations

import errno
import os
import stat
from contextlib import suppress
from io import FileIO
from pathlib import Path

from pattern.errors import NotAPiece

MOST_BYTES = 64 * 1024 * 1024
"""A larger file is no piece: by judgement, over a hundred times the longest."""
_WAITS = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOCTTY", 0)
"""A pipe or terminal put in the place of a file just looked at is not waited for."""
_PLAIN = getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0)


def sync_folder(folder: Path) -> None:
    """Put the entries of a folder on the disk."""
    if os.name != "nt":  # Windows opens no folders; from memory, NTFS logs new entries by itself
        number = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(number)
        finally:
            os.close(number)


def make_folder(folder: Path) -> None:
    """Make a folder with those above it, for certain; what is new is for its owner alone."""
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
    """A regular file, by flags of os.open; a device is not even opened, as that may change it.

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
    """All from where the file stands; counted, as some say they are empty and never end.

    Raises: NotAPiece, OSError.
    """
    data = bytearray()
    while block := file.read(MOST_BYTES + 1 - len(data)):
        data += block
        if len(data) > MOST_BYTES:
            raise NotAPiece(path, f"it is larger than {MOST_BYTES >> 20} MB")
    return bytes(data)


def read_whole(path: Path) -> bytes:
    """All bytes of a regular file, opened for nothing but reading. Raises: NotAPiece, OSError."""
    with opened(path, os.O_RDONLY) as file:
        return all_of(path, file)


def write_new(path: Path, data: bytes) -> None:
    """A new file, on the disk for certain or not there. Raises: OSError, also where one is."""
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
    """Write all of it, on the disk for certain. Raises: OSError."""
    if (written := file.write(data)) != len(data):
        raise OSError(errno.ENOSPC, f"room for only {written} of {len(data)} bytes")
    os.fsync(file.fileno())
