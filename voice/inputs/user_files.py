"""Reads files that a person names: regular files only, up to a size limit."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from pattern.errors import RoundsAloudError

LONGEST_TEXT_BYTES = 1 << 18
"""Longer than any text that we read, by judgement."""


@dataclass(eq=False)
class FileRefused(RoundsAloudError):  # noqa: N818 - it reads as what happened
    """A file that cannot be read."""

    path: Path
    why: str

    says = "{self.path} cannot be read ({self.why}); give another file."


@contextmanager
def reaching(path: Path) -> Iterator[None]:
    """Turn the system's errors about a path within the block into FileRefused."""
    try:
        yield
    except OSError as fault:
        raise FileRefused(path, fault.strerror or str(fault)) from fault
    except ValueError as fault:  # a path with a null byte
        raise FileRefused(path, "that is no path") from fault


@contextmanager
def opened(path: Path) -> Iterator[BinaryIO]:
    """Open a regular file for reading. Raises: FileRefused.

    The file's type is checked before opening, since a device or a pipe might block or never end.
    """
    with reaching(path):
        if not stat.S_ISREG((kind := path.stat()).st_mode):
            what = "a folder" if stat.S_ISDIR(kind.st_mode) else "no regular file"
            raise FileRefused(path, f"it is {what}")
        # Without blocking, in case it has become a pipe since the check.
        number = os.open(
            path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
        )
        file = os.fdopen(number, "rb")
    with file:
        yield file


def read_text(path: Path) -> str:
    """Read a short text in UTF-8. Raises: FileRefused."""
    with opened(path) as file, reaching(path):
        data = file.read(LONGEST_TEXT_BYTES + 1)
    if len(data) > LONGEST_TEXT_BYTES:
        raise FileRefused(path, f"it is longer than {LONGEST_TEXT_BYTES} bytes")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as fault:
        raise FileRefused(path, "it is no text in UTF-8") from fault
