"""A piece taken from under its session: no turn that was answered is lost, and two never write.

What other programs do with files is done here by other means than the code under test: rename(2),
unlink(2), truncate(2) and plain writes, some of them from another process.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pattern.journal import disk, held, journal
from pattern.journal.journal import Journal
from pattern.journal.journal_errors import JournalGone, JournalLocked, JournalReplaced, NoSuchPiece
from pattern.journal.kept import pieces, read
from pattern.journal.lines import Turn, read_lines
from pattern.journal.records import Codec
from pattern.session.history import CODEC as EVENTS
from tests.properties import examples
from tests.test_call import HAT, ROOT, program, replies
from voice.caller.caller import Caller

AT = "2026-03-01T18:30:05Z"
THEN = "Hat 2026-03-01 18-30-05"


@dataclass(frozen=True, slots=True)
class Said:
    n: int


CODEC: Codec[Said] = Codec([Said])
Taken = Callable[[Path], object]


def shell(line: str) -> Taken:
    """Another process that does something to the file, named "$1"."""
    return lambda path: subprocess.run(["sh", "-ec", line, "sh", path], check=True)


def appended(path: Path) -> None:
    with path.open("ab") as file:
        file.write(b"not ours\n")


def emptied(path: Path) -> None:
    path.write_bytes(b"")


def replaced(path: Path) -> None:
    beside = path.with_name("beside")
    beside.write_bytes(path.read_bytes())
    beside.replace(path)


TAKEN: dict[str, Taken] = {
    "moved": lambda path: path.rename(path.with_name("elsewhere.jsonl")),
    "removed": Path.unlink,
    "replaced": replaced,
    "appended to": appended,
    "emptied": emptied,
    "folder moved": lambda path: path.parent.rename(path.parent.with_name("other")),
}
if sys.platform != "win32":
    TAKEN["moved by another process"] = shell('mv "$1" "$1.bak"')
    TAKEN["replaced by another process"] = shell('cp "$1" "$1.new"; mv "$1.new" "$1"')
    TAKEN["cut by another process"] = shell('head -c 20 "$1" > "$1.new"; cat "$1.new" > "$1"')


def folder_in(tmp_path: Path) -> Path:
    return tmp_path / "pieces"


def numbers(turns: tuple[Turn[Said], ...]) -> list[int]:
    return [event.n for turn in turns for event in turn.events]


@pytest.mark.parametrize("taken", TAKEN.values(), ids=TAKEN)
def test_the_next_turn_goes_with_all_before_it_to_a_new_piece(tmp_path: Path, taken: Taken) -> None:
    folder = folder_in(tmp_path)
    with Journal.open(folder, "Hat", CODEC) as session:
        session.append([Said(1)], AT)
        session.append([Said(2)], AT)
        taken(session.path)
        left = session.path.read_bytes() if session.path.exists() else None
        with pytest.raises(JournalReplaced, match=THEN) as caught:
            session.append([Said(3)], AT)
        assert caught.value.name == THEN
        assert numbers(read(folder, THEN, CODEC)) == [1, 2, 3]
        assert (session.path.read_bytes() if session.path.exists() else None) == left
        with pytest.raises(ValueError, match="closed"):
            session.append([Said(4)], AT)
    with Journal.open(folder, THEN, CODEC, create=False) as session:
        session.append([Said(4)], AT)
    assert numbers(read(folder, THEN, CODEC)) == [1, 2, 3, 4]


@pytest.mark.parametrize("taken", TAKEN.values(), ids=TAKEN)
def test_taken_away_while_a_turn_is_written_it_is_kept_anew(
    tmp_path: Path, taken: Taken, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = folder_in(tmp_path)
    with Journal.open(folder, "Hat", CODEC) as session:
        session.append([Said(1)], AT)

        def written(*of: object) -> None:
            write(*of)  # type: ignore[arg-type]
            taken(session.path)

        write = disk.write
        monkeypatch.setattr(held, "write", written)
        with pytest.raises(JournalReplaced):
            session.append([Said(2)], AT)
    assert numbers(read(folder, THEN, CODEC)) == [1, 2]


@pytest.mark.parametrize("taken", ["removed", "replaced", "emptied"])
def test_taken_away_after_the_last_turn_it_is_kept_anew_when_the_call_ends(
    tmp_path: Path, taken: str
) -> None:
    folder = folder_in(tmp_path)
    session = Journal.open(folder, "Hat", CODEC)
    session.append([Said(1)], AT)
    TAKEN[taken](session.path)
    with pytest.raises(JournalReplaced), session:
        pass
    assert numbers(read(folder, THEN, CODEC)) == [1]


def test_moved_after_the_last_turn_it_is_where_it_was_moved(tmp_path: Path) -> None:
    folder = folder_in(tmp_path)
    with Journal.open(folder, "Hat", CODEC) as session:
        session.append([Said(1)], AT)
        TAKEN["moved"](session.path)
    assert [piece.name for piece in pieces(folder, CODEC)] == ["elsewhere"]


def test_taken_away_again_each_time_has_a_name_of_its_own(tmp_path: Path) -> None:
    folder, long = folder_in(tmp_path), "x" * 60
    for times in range(1, 4):
        with Journal.open(folder, long, CODEC) as session:
            session.append([Said(times)], AT)
            session.path.unlink()
            with pytest.raises(JournalReplaced):
                session.append([Said(9)], AT)
    names = sorted(piece.name for piece in pieces(folder, CODEC))
    assert names == [f"{'x' * 38} 2026-03-01 18-30-05{more}" for more in ("", " 2", " 3")]
    assert [numbers(read(folder, name, CODEC)) for name in names] == [[n, 9] for n in (1, 2, 3)]


def test_where_no_new_file_can_be_written_the_turn_is_not_kept_and_may_be_said_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_path: Path, _data: bytes) -> None:
        raise OSError(28, "No space left on device")

    folder = folder_in(tmp_path)
    with Journal.open(folder, "Hat", CODEC) as session:
        session.append([Said(1)], AT)
        session.path.unlink()
        with monkeypatch.context() as broken:
            broken.setattr(journal, "write_new", full)
            with pytest.raises(JournalGone, match="No space left on device"):
                session.append([Said(2)], AT)
        assert numbers(session.turns) == [1]
        with pytest.raises(JournalReplaced):
            session.append([Said(2)], AT)
    assert numbers(read(folder, THEN, CODEC)) == [1, 2]


def test_who_opens_while_the_file_is_taken_away_gets_the_one_that_is_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Locked only after it was replaced, the file opened would be one that nobody can find."""
    folder = folder_in(tmp_path)
    with Journal.open(folder, "Hat", CODEC) as session:
        session.append([Said(1)], AT)
    calls: list[Path] = []
    lock = held._lock

    def locked(path: Path, file: object) -> None:
        if not calls:
            replaced(path)
        calls.append(path)
        lock(path, file)  # type: ignore[arg-type]

    monkeypatch.setattr(held, "_lock", locked)
    with Journal.open(folder, "Hat", CODEC) as session:
        session.append([Said(2)], AT)
        with pytest.raises(JournalLocked):
            Journal.open(folder, "Hat", CODEC)
    assert numbers(read(folder, "Hat", CODEC)) == [1, 2]


def test_with_any_other_file_removed_a_second_session_is_kept_out(tmp_path: Path) -> None:
    folder = folder_in(tmp_path)
    with Journal.open(folder, "Hat", CODEC) as session:
        session.append([Said(1)], AT)
        assert list(folder.iterdir()) == [session.path], "the lock is on the piece itself"
        link = folder / "same.jsonl"
        link.hardlink_to(session.path)
        for name in ("Hat", "same"):
            with pytest.raises(JournalLocked):
                Journal.open(folder, name, CODEC)
            assert numbers(read(folder, name, CODEC)) == [1]
        with pytest.raises(JournalLocked):  # and whoever read did not let the lock go
            Journal.open(folder, "Hat", CODEC)


def test_told_nothing_no_file_stays_and_what_was_there_does(tmp_path: Path) -> None:
    folder = folder_in(tmp_path)
    with Journal.open(folder, "Hat", CODEC), pytest.raises(JournalLocked):
        Journal.open(folder, "Hat", CODEC)
    with pytest.raises(NoSuchPiece):
        read(folder, "Hat", CODEC)
    (folder / "Hat.jsonl").touch()
    Journal.open(folder, "Hat", CODEC).close()
    assert (folder / "Hat.jsonl").exists()
    session = Journal.open(folder, "other", CODEC)
    session.path.unlink()
    session.path.write_bytes(b"of another program")
    session.close()
    assert session.path.read_bytes() == b"of another program"


def test_the_caller_says_where_it_is_kept_and_ends(tmp_path: Path) -> None:
    folder = folder_in(tmp_path)
    with Journal.open(folder, "Hat", EVENTS) as session:
        caller = Caller(session)
        caller.open()
        session.path.unlink()
        said = caller.hear("centimetres")
        assert said.ends
        (kept,) = pieces(folder, EVENTS)
        assert kept.name in said.say
        assert [type(event).__name__ for event in read(folder, kept.name, EVENTS)[-1].events] == [
            type(event).__name__ for event in said.events
        ]


def calling(folder: Path) -> subprocess.Popen[bytes]:
    args = program("call", "--typed", "--json", "--folder", str(folder), "--piece", "test", *HAT)
    return subprocess.Popen(
        args, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=ROOT
    )


def asked(call: subprocess.Popen[bytes], words: str = "") -> Any:  # noqa: ANN401 (JSON)
    assert call.stdin is not None
    assert call.stdout is not None
    if words:
        call.stdin.write(words.encode() + b"\n")
        call.stdin.flush()
    return json.loads(call.stdout.readline())


def test_the_program_ends_with_the_name_under_which_the_piece_goes_on(tmp_path: Path) -> None:
    with calling(tmp_path) as call:
        asked(call)
        asked(call, "next")
        (tmp_path / "test.jsonl").unlink()
        last = asked(call, "next")
        assert call.wait() == 0
    (path,) = tmp_path.iterdir()
    assert path.stem in last["say"]
    assert last["round"] == 3
    assert replies(tmp_path, "next", options=(), piece=path.stem)[1]["round"] == 4


def test_the_program_says_so_when_the_call_ends_first(tmp_path: Path) -> None:
    with calling(tmp_path) as call:
        asked(call)
        asked(call, "next")
        (tmp_path / "test.jsonl").unlink()
        told = call.communicate()[1].decode()
        assert call.returncode == 1
    (path,) = tmp_path.iterdir()
    assert told.count("\n") == 1
    assert path.stem in told
    assert replies(tmp_path, options=(), piece=path.stem)[0]["round"] == 2


DONE = st.lists(st.sampled_from(["turn", *TAKEN, "reopened"]), max_size=12)
HARMLESS = [HealthCheck.function_scoped_fixture, HealthCheck.too_slow]


def in_any_file(under: Path) -> list[list[int]]:
    """The turns of every file that is a whole piece, read by bytes."""
    found = []
    for path in under.rglob("*"):
        if path.is_file() and path.read_bytes().endswith(b"}\n"):
            found.append(numbers(read_lines(path, path.read_bytes(), CODEC).turns))
    return found


@settings(max_examples=examples(60), suppress_health_check=HARMLESS)
@given(done=DONE)
def test_whatever_is_done_to_the_file_no_answered_turn_is_lost(
    tmp_path_factory: pytest.TempPathFactory, done: list[str]
) -> None:
    """Each answered turn is in the piece, where that was moved, or in the new one it names."""
    under = tmp_path_factory.mktemp("any")
    folder, name, answered = folder_in(under), "Hat", [0]
    session = Journal.open(folder, name, CODEC)
    session.append([Said(0)], AT)
    for n, step in enumerate(["turn", *done, "turn"], 1):
        if step in TAKEN:
            if session.path.exists():
                TAKEN[step](session.path)
            if folder.with_name("other").exists():
                folder.with_name("other").rename(under / str(n))
            continue
        try:
            if step == "turn":
                session.append([Said(n)], AT)
                answered.append(n)
            elif step == "reopened":
                session.__exit__(None, None, None)
                session = Journal.open(folder, name, CODEC, create=False)
        except JournalReplaced as told:
            name, answered = told.name, [*answered, n] if step == "turn" else answered
            session = Journal.open(folder, name, CODEC, create=False)
        except NoSuchPiece:  # moved away by hand, whole; a new one is begun in its place
            assert answered in in_any_file(under)
            session, answered = Journal.open(folder, name, CODEC), [n]
            session.append([Said(n)], AT)
        assert numbers(session.turns) == answered
        session_file = session.path.read_bytes()
        assert numbers(read_lines(session.path, session_file, CODEC).turns) == answered
    session.close()
