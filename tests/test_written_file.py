"""Files that a person names: whole or as they were, and never a piece in whatever disguise."""

from __future__ import annotations

import errno
import os
import stat
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pattern.journal.journal import Journal
from pattern.session.history import CODEC
from pattern.session.state import State
from tests.openings import opening
from voice.cli import app
from voice.inputs.written_file import FileKept, FileUnwritable, write_file

NAME = "garden hat"
OLD, NEW = b"the old one", b"the new one"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder of pieces with one piece in it."""
    with Journal.open(tmp_path / "pieces", NAME, CODEC) as journal:
        journal.append(opening(State(), {"head_mm": 560.0}), "2026-03-01T18:30:00Z")
    return tmp_path / "pieces"


def disguises(folder: Path) -> list[Path]:
    """The piece by other names: `..`, links of both kinds, a link to a link, a copy, other case."""
    piece = folder / f"{NAME}.jsonl"
    (folder / "link.txt").symlink_to(piece)
    (folder / "further.html").symlink_to("link.txt")
    (folder / "hard.txt").hardlink_to(piece)
    (folder / "copy.txt").write_bytes(piece.read_bytes())
    (folder.parent / "same").symlink_to(folder)
    return [
        piece,
        folder / ".." / folder.name / piece.name,
        folder.parent / "same" / piece.name,
        *(folder / name for name in ("link.txt", "further.html", "hard.txt", "copy.txt")),
        folder / "GARDEN HAT.JSONL",
        folder / "not there yet.jsonl",
        folder / "a.LOCK",
    ]


def test_a_piece_is_not_written_over_by_any_name(
    folder: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    paths = disguises(folder)
    before = {path: path.read_bytes() for path in folder.iterdir()}
    for path in paths:
        with pytest.raises(FileKept):
            write_file(path, NEW)
        args = ["writeup", NAME, "--folder", str(folder), "--out", str(path)]
        assert app.main(args) == 1
        told = capfd.readouterr().err
        assert told.count("\n") == 1
        assert "name another file" in told
    assert {path: path.read_bytes() for path in folder.iterdir()} == before


def test_a_folder_of_pieces_is_no_file(folder: Path) -> None:
    before = sorted(folder.parent.rglob("*"))
    for path in (folder, folder / ".", folder.parent):
        with pytest.raises(FileUnwritable, match=os.strerror(errno.EISDIR)):
            write_file(path, NEW)
    assert sorted(folder.parent.rglob("*")) == before


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    old=st.none() | st.binary().filter(lambda old: not old.startswith(b'{"v":')), new=st.binary()
)
def test_what_is_written_is_there_and_nothing_beside_it(
    tmp_path: Path, old: bytes | None, new: bytes
) -> None:
    path = tmp_path / "out.txt"
    path.unlink(missing_ok=True)
    if old is not None:
        path.write_bytes(old)
    write_file(path, new)
    assert [(each, each.read_bytes()) for each in tmp_path.iterdir()] == [(path, new)]


@pytest.mark.parametrize("call", ["fsync", "replace"])
def test_a_disk_that_fails_late_leaves_what_was_there(
    tmp_path: Path, call: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A fake of a disk that breaks, beside the real limit below."""

    def failing(*_: object) -> None:
        raise OSError(errno.EIO, "Input/output error")

    path = tmp_path / "out.txt"
    path.write_bytes(OLD)
    with monkeypatch.context() as broken:
        broken.setattr(os, call, failing)
        broken.setattr(Path, "replace", failing if call == "replace" else Path.replace)
        with pytest.raises(FileUnwritable, match="Input/output error"):
            write_file(path, NEW)
    assert [(each, each.read_bytes()) for each in tmp_path.iterdir()] == [(path, OLD)]


@pytest.mark.skipif(sys.platform == "win32", reason="file size limits are POSIX")
@pytest.mark.parametrize("old", [OLD, None])
def test_no_room_leaves_what_was_there(tmp_path: Path, old: bytes | None) -> None:
    """RLIMIT_FSIZE: a write past the limit fails with EFBIG: setrlimit(2)."""
    import resource
    import signal

    path = tmp_path / "out.txt"
    if old is not None:
        path.write_bytes(old)
    limits, before = resource.getrlimit(resource.RLIMIT_FSIZE), list(tmp_path.iterdir())
    ignored = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    try:
        resource.setrlimit(resource.RLIMIT_FSIZE, (1000, limits[1]))
        with pytest.raises(FileUnwritable, match=os.strerror(errno.EFBIG)):
            write_file(path, bytes(5000))
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, limits)
        signal.signal(signal.SIGXFSZ, ignored)
    assert list(tmp_path.iterdir()) == before
    assert old is None or path.read_bytes() == old


@pytest.mark.skipif(sys.platform == "win32", reason="modes and links of POSIX")
def test_a_link_stays_one_and_a_file_keeps_its_mode(tmp_path: Path) -> None:
    path, link = tmp_path / "out.txt", tmp_path / "link"
    path.write_bytes(OLD)
    path.chmod(0o640)
    link.symlink_to(path.name)
    write_file(link, NEW)
    assert link.is_symlink()
    assert (path.read_bytes(), stat.S_IMODE(path.stat().st_mode)) == (NEW, 0o640)
    ring = tmp_path / "ring"
    ring.symlink_to(ring)
    with pytest.raises(FileUnwritable):
        write_file(ring, NEW)


@pytest.mark.skipif(sys.platform == "win32", reason="pipes with names are POSIX")
def test_a_pipe_is_written_to_and_not_replaced(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reader = os.open(pipe, os.O_RDWR)
    try:
        write_file(pipe, NEW)
        assert stat.S_ISFIFO(pipe.stat().st_mode)
        assert os.read(reader, 100) == NEW
    finally:
        os.close(reader)
    assert list(tmp_path.iterdir()) == [pipe]
