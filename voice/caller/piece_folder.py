"""Where pieces are kept, and which one is meant when none is named."""

from __future__ import annotations

from argparse import ArgumentParser
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory, TemporaryFile
from typing import TYPE_CHECKING

from pattern.errors import RoundsAloudError
from voice.inputs.user_files import FileRefused, reaching

if TYPE_CHECKING:
    from pattern.session.state import State


@dataclass(eq=False)
class FolderRefused(RoundsAloudError):  # noqa: N818 - it reads as what happened
    """A folder that nothing can be written to."""

    path: Path
    why: str

    says = "Nothing can be written to {self.path} ({self.why}); name another folder."


def writable(folder: Path, mode: int = 0o777) -> Path:
    """The folder, made where it was missing, with these rights. Raises: FolderRefused."""
    try:
        for path in reversed([path for path in (folder, *folder.parents) if not path.exists()]):
            path.mkdir(mode, exist_ok=True)
        with TemporaryFile(dir=folder) as trial:
            trial.write(b"0")
    except OSError as error:
        raise FolderRefused(folder, error.strerror or str(error)) from error
    return folder


@dataclass(eq=False)
class NoTemporaryFolder(RoundsAloudError):  # noqa: N818
    """Nowhere to put what is not to be kept."""

    why: str

    says = (
        "There is nowhere for what is not to be kept ({self.why}); "
        "name a folder that can be written to by the variable TMPDIR."
    )


def temporary() -> TemporaryDirectory[str]:
    """A folder for what is not to be kept. Raises: NoTemporaryFolder."""
    try:
        return TemporaryDirectory()
    except OSError as error:
        raise NoTemporaryFolder(error.strerror or str(error)) from error


@dataclass(eq=False)
class FolderClosed(RoundsAloudError):  # noqa: N818
    """A folder that cannot be looked into."""

    path: Path
    why: str

    says = "{self.path} cannot be looked into ({self.why}); allow that, or name another folder."


def reached(folder: Path) -> Path:
    """The folder, where it can be looked into, or is not there yet. Raises: FolderClosed."""
    try:
        with reaching(folder), suppress(FileNotFoundError, NotADirectoryError):
            (folder / "any").lstat()
    except FileRefused as refused:
        raise FolderClosed(folder, refused.why) from refused
    return folder


def add_argument(parser: ArgumentParser) -> None:
    """The option that names the folder."""
    parser.add_argument("--folder", type=Path, metavar="DIR", help="where the pieces are kept")


def kept_in(folder: Path | None) -> Path:
    """The folder given, or the usual one of this system's user. Raises: FolderClosed."""
    from platformdirs import user_data_path

    return reached(folder or user_data_path("rounds-aloud", appauthor=False) / "pieces")


def state_of(folder: Path, name: str) -> State:
    """How far a piece is. Raises: NoSuchPiece and what else a journal refuses."""
    from pattern.journal.kept import piece_path, read
    from pattern.session.history import CODEC, state_read

    return state_read(piece_path(folder, name), read(folder, name, CODEC))


def unfinished(folder: Path) -> str | None:
    """The piece worked on last that is not done; None when there is none."""
    from pattern.journal.kept import pieces
    from pattern.session.history import CODEC
    from pattern.shape.rounds import Stage

    found = [piece for piece in pieces(folder, CODEC) if piece.last_at_iso]
    for piece in sorted(found, key=lambda piece: piece.last_at_iso or "", reverse=True):
        if state_of(folder, piece.name).stage is not Stage.DONE:
            return piece.name
    return None


def new_name(folder: Path) -> str:
    """A name that no piece has."""
    from pattern.journal.kept import is_kept

    number = 1
    while is_kept(folder, f"hat {number}"):
        number += 1
    return f"hat {number}"
