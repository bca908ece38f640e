"""The journal of a piece: one line for each turn, written by one session at a time."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from types import TracebackType
from typing import Generic, Self, TypeVar

from pattern.journal.disk import MOST_BYTES, make_folder, write_new
from pattern.journal.held import HeldFile
from pattern.journal.journal_errors import (
    JournalError,
    JournalGone,
    JournalReplaced,
    JournalUnreadable,
    JournalUnwritable,
    NoSuchPiece,
)
from pattern.journal.kept import SUFFIX, is_kept, piece_path, told_as
from pattern.journal.lines import Kept, Turn, read_lines, write_line
from pattern.journal.records import Codec

E = TypeVar("E")
_STEM = 38
"""Characters of a name that are kept, to leave room for a time and a number."""
_MORE = ("", *(f" {number}" for number in range(2, 10)))


class Journal(Generic[E]):
    """The turns of one piece, locked against other sessions while open. A context manager."""

    def __init__(self, path: Path, codec: Codec[E], *, create: bool = True) -> None:
        """Lock, read and check the file; prefer `Journal.open`."""
        self.path = path
        self._codec = codec
        with told_as(JournalUnwritable, path):
            if create:
                make_folder(path.parent)
            self._file = HeldFile(path, create=create)
        try:
            with told_as(JournalUnreadable, path):
                data = self._file.read()
            self._kept = read_lines(path, data, codec)
            with told_as(JournalUnwritable, path):
                # Lines that a dead session wrote but did not sync are now about to be told.
                self._file.sync()
        except BaseException:
            self._file.withdraw()
            raise
        self._behind = data[self._kept.end :]
        """Bytes after the kept turns, which the next append removes."""
        self.dropped_tail = bool(self._behind)

    @classmethod
    def open(cls, folder: Path, name: str, codec: Codec[E], *, create: bool = True) -> Self:
        """Open a piece; by default a missing piece and its folders are created.

        A torn last line stays in the file until the next append. Opening an existing piece writes
        nothing, so it works on a full disk and leaves the file intact for inspection.
        Raises: BadPieceName, NoSuchPiece (only without `create`), JournalLocked, JournalDamaged,
        JournalNewer, NotAPiece, JournalUnreadable, JournalUnwritable.
        """
        path = piece_path(folder, name)
        if not create and not is_kept(folder, name):
            raise NoSuchPiece(name, folder)
        return cls(path, codec, create=create)

    @property
    def turns(self) -> tuple[Turn[E], ...]:
        """All turns so far: those read, then those appended."""
        return self._kept.turns

    def append(self, events: Iterable[E], at_iso: str) -> None:
        """Write one whole turn to disk; once this returns, it survives a loss of power.

        Raises: BadRecord or ValueError (a bad time) before anything is written. JournalUnwritable
        when the disk refuses: the turn is not kept, and a later append may succeed.
        JournalReplaced when another program removed or changed the file: all turns, including this
        one, are kept in a new piece, and this journal is closed. JournalGone when even that could
        not be written.
        """
        kept, turn = self._kept, Turn(tuple(events), at_iso)
        missing_end = b"" if kept.ended else b"\n"
        line = missing_end + write_line(self._codec, len(kept.turns) + 1, turn)
        after = Kept((*kept.turns, turn), kept.end + len(line))
        if why := self._file.strayed(kept.end, self._behind):
            raise self._kept_anew(after, why)
        with told_as(JournalUnwritable, self.path):
            if after.end > MOST_BYTES:
                raise OSError(f"a piece holds no more than {MOST_BYTES >> 20} MB")
            behind, self._behind = self._behind, line
            self._file.append(kept.end, line, behind)
        if why := self._file.strayed(after.end, b""):
            raise self._kept_anew(after, why)
        self._kept, self._behind = after, b""

    def _kept_anew(self, kept: Kept[E], why: str) -> JournalError:
        """Write all turns to a new piece, named after this one and the time of the last turn."""
        numbered = enumerate(kept.turns, 1)
        whole = b"".join(write_line(self._codec, n, turn) for n, turn in numbered)
        time = kept.turns[-1].at_iso[:19].replace("T", " ").replace(":", "-")
        for stem in (f"{self.path.stem[:_STEM]} {time}{more}" for more in _MORE):
            path = self.path.with_name(f"{stem}{SUFFIX}")
            try:
                write_new(path, whole)
            except FileExistsError:
                continue
            except OSError as fault:
                return JournalGone(self.path, why, fault.strerror or str(fault))
            self._kept = kept
            self.close()
            return JournalReplaced(self.path, why, stem)
        return JournalGone(self.path, why, "all names are taken")

    def close(self) -> None:
        """Release the piece to other sessions; a new piece without turns is removed."""
        if self._kept.turns:
            self._file.close()
        else:
            self._file.withdraw()

    def withdraw(self) -> None:
        """Close the piece, and remove it if it was created here."""
        self._file.withdraw()

    def __enter__(self) -> Self:
        """Return the journal itself."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Close the piece. Raises: JournalReplaced, JournalGone if turns would be lost."""
        try:
            if self._kept.turns and (why := self._file.lost(self._kept.end, self._behind)):
                raise self._kept_anew(self._kept, why)
        finally:
            self.close()
