"""Errors of journals; each one reads as a sentence that says what to do."""

# ruff: noqa: N818  (a name says what happened, as in NoSuchPiece)

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from pattern.errors import RoundsAloudError


class JournalError(RoundsAloudError):
    """A journal that cannot be opened, read or written."""


@dataclass(eq=False)
class JournalDamaged(JournalError):
    """A line, other than a torn last one, is not what was written."""

    path: Path
    line: int
    """Counted from 1."""
    why: str

    says = (
        "Line {self.line} of {self.path} is damaged ({self.why}) and the file was left as it "
        "is; put back a copy of it, or begin a piece under another name."
    )


@dataclass(eq=False)
class JournalNewer(JournalError):
    """A line was written by a later version of this program."""

    path: Path
    line: int
    """Counted from 1."""
    version: int
    """The record version found there."""

    says = (
        "Line {self.line} of {self.path} has record version {self.version}, newer than this "
        "program knows; update the program to go on with this piece."
    )


@dataclass(eq=False)
class JournalLocked(JournalError):
    """Another session has the piece open."""

    path: Path

    says = "{self.path} is open in another call; end that call, then try again."


@dataclass(eq=False)
class JournalUnwritable(JournalError):
    """A turn, or the file itself, could not be put on the disk."""

    path: Path
    why: str

    says = (
        "{self.path} cannot be written ({self.why}) but nothing already kept is lost; "
        "make room or allow writing there, then try again."
    )


@dataclass(eq=False)
class JournalReplaced(JournalError):
    """The file was taken from under a session; every turn, the last too, is kept in a new one."""

    path: Path
    why: str
    """Words for what became of it, after its name."""
    name: str
    """The piece that they are kept as, in the same folder."""

    says = (
        "{self.path} {self.why} while it was open, so all that was said is kept as {self.name}; "
        "call again to go on with that piece."
    )


@dataclass(eq=False)
class JournalGone(JournalError):
    """The file was taken from under a session, and no new one can be written."""

    path: Path
    why: str
    """Words for what became of it, after its name."""
    then: str
    """Why there is no new one."""

    says = (
        "{self.path} {self.why} and no new file can be written in its folder ({self.then}); "
        "make room or allow writing there, then say it again."
    )


@dataclass(eq=False)
class NotAPiece(JournalError):
    """A file of the name of a piece that cannot be one."""

    path: Path
    why: str

    says = (
        "{self.path} is no piece ({self.why}) and was left as it is; "
        "take it away, or begin a piece under another name."
    )


@dataclass(eq=False)
class JournalUnreadable(JournalError):
    """The system would not hand over a file, or the list of a folder."""

    path: Path
    why: str

    says = (
        "{self.path} cannot be read ({self.why}) and was left as it is; "
        "allow reading there, then try again."
    )


@dataclass(eq=False)
class NoSuchPiece(JournalError):
    """No piece of that name is kept in the folder."""

    name: str
    folder: Path

    says = (
        "There is no piece called {self.name} in {self.folder}; "
        "choose one that is there, or begin a new piece under that name."
    )


@dataclass(eq=False)
class BadPieceName(JournalError):
    """A name that cannot safely be the name of a file on every system."""

    name: str

    says = (
        "{self.name!r} cannot be the name of a piece; use 1 to 60 letters, digits, spaces, "
        "hyphens and underscores, a letter or digit first, and no device name such as CON."
    )
