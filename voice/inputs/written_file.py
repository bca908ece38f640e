"""Writes files where a person wants them, atomically, and never over a piece."""

# ruff: noqa: N818  (a name says what happened, as in FileUnwritable)

from __future__ import annotations

import errno
import os
import stat
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from secrets import token_hex

from pattern.errors import RoundsAloudError
from pattern.journal.disk import sync_folder

_KEPT = {".jsonl", ".lock"}
"""Suffixes of pieces and locks, compared without regard to case."""
_BEGINS = b'{"v":'
"""First bytes of every piece, whatever its name."""


@dataclass(eq=False)
class FileUnwritable(RoundsAloudError):
    """A file that cannot be written."""

    path: Path
    why: str

    says = "{self.path} cannot be written ({self.why}); name a file that can be."


@dataclass(eq=False)
class FileKept(RoundsAloudError):
    """A file that holds a piece, or whose name would make it look like one."""

    path: Path

    says = (
        "{self.path} is the file of a piece, or named like one, and was left as it is; "
        "name another file."
    )


def write_file(path: Path, data: bytes) -> None:
    """Write a whole file; an existing file is replaced only once the new one is on disk.

    A link is followed, and a device or pipe is written to. Raises: FileKept, FileUnwritable.
    """
    try:
        found = path.stat() if path.exists() else None
        if found is not None and not (stat.S_ISREG(found.st_mode) or stat.S_ISDIR(found.st_mode)):
            path.write_bytes(data)
            return
        place = path.resolve()
        if place.is_symlink():  # from Python 3.13 on a loop of links resolves to one of them
            raise OSError(errno.ELOOP, os.strerror(errno.ELOOP))
        if place.suffix.casefold() in _KEPT or (found and _is_piece(place)):
            raise FileKept(path)
        _replace(place, data, found)
    except (OSError, RuntimeError) as problem:  # RuntimeError: a loop of links, before Python 3.13
        why = problem.strerror if isinstance(problem, OSError) else None
        raise FileUnwritable(path, why or str(problem)) from problem


def _is_piece(place: Path) -> bool:
    with place.open("rb") as file:
        return file.read(len(_BEGINS)) == _BEGINS


def _replace(place: Path, data: bytes, found: os.stat_result | None) -> None:
    if found is not None and not os.access(place, os.W_OK):
        raise PermissionError("it may only be read")
    beside = place.with_name(f".{place.name[:40]}.{token_hex(4)}")
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    try:
        with os.fdopen(os.open(beside, flags, 0o666), "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if found is not None:
            beside.chmod(stat.S_IMODE(found.st_mode))
        beside.replace(place)
    except BaseException:
        with suppress(OSError):
            beside.unlink()
        raise
    sync_folder(place.parent)
