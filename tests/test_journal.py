"""The journal: a turn acknowledged is there, whole, whatever happens; damage is never read past.

Stands on properties (every cut, every flipped byte), on the kernel itself (killed processes, file
size limits, full and read-only file systems), and on zlib and json for the form of a line.
"""

from __future__ import annotations

import errno
import io
import json
import os
import random
import re
import shutil
import subprocess
import sys
import time
import zlib
from collections.abc import Callable
from dataclasses import dataclass, make_dataclass
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pattern import errors
from pattern.errors import BadRecord, RoundsAloudError
from pattern.journal import disk, journal_errors, kept
from pattern.journal.journal import Journal
from pattern.journal.journal_errors import (
    BadPieceName,
    JournalDamaged,
    JournalError,
    JournalGone,
    JournalLocked,
    JournalNewer,
    JournalReplaced,
    JournalUnreadable,
    JournalUnwritable,
    NoSuchPiece,
    NotAPiece,
)
from pattern.journal.kept import piece_path, pieces
from pattern.journal.lines import Turn
from pattern.journal.records import Codec
from tests.properties import examples

ROOT = Path(__file__).parents[1]
AT = "2026-03-01T18:30:00Z"
LATER = "2026-03-01T18:30:05.25Z"


@dataclass(frozen=True, slots=True)
class Called:
    round_no: int
    words: str


CODEC: Codec[Called] = Codec([Called])
THREE: tuple[Turn[Called], ...] = (
    Turn((Called(1, "six in the ring"),), AT),
    Turn((Called(2, 'say "deux", é \n \\'), Called(3, "")), LATER),
    Turn((), AT),  # the clock was put back, and nothing happened: both are kept as they are
)

CHILD = """
import sys
from dataclasses import dataclass
from pathlib import Path
from pattern.journal.journal_errors import JournalError
from pattern.journal.journal import Journal
from pattern.journal.records import Codec

@dataclass(frozen=True, slots=True)
class Called:
    round_no: int
    words: str

def append(journal, n, words="words " * 20):
    journal.append([Called(n, words)], "2026-03-01T18:30:00Z")
    sys.stdout.write(f"{n}\\n")
    sys.stdout.flush()

FOLDER = Path(sys.argv[1])
journal = Journal.open(FOLDER, "Hat", Codec([Called]))
n = len(journal.turns)
"""
"""A real second process; prints the number of each turn once `append` has returned."""


def python(code: str, folder: Path) -> list[str]:
    return [sys.executable, "-c", CHILD + code, str(folder)]


def written(folder: Path, turns: tuple[Turn[Called], ...] = THREE) -> Path:
    with Journal.open(folder, "Hat", CODEC) as journal:
        for turn in turns:
            journal.append(turn.events, turn.at_iso)
    return folder / "Hat.jsonl"


def read(folder: Path) -> tuple[Turn[Called], ...]:
    with Journal.open(folder, "Hat", CODEC, create=False) as journal:
        assert not journal.dropped_tail
        return journal.turns


def sealed(**members: object) -> bytes:
    """A line made by other means than the code under test."""
    body = json.dumps(members, separators=(",", ":"))[:-1]
    return f'{body},"sum":"{zlib.crc32(body.encode()):08x}"}}\n'.encode()


TURNS = st.lists(
    st.builds(
        Turn[Called],
        st.lists(st.builds(Called, st.integers(0, 99), st.text()), max_size=3).map(tuple),
        st.sampled_from([AT, LATER]),
    ),
    max_size=5,
).map(tuple)


@settings(
    max_examples=examples(50),
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(turns=TURNS)
def test_turns_come_back_as_they_were(tmp_path: Path, turns: tuple[Turn[Called], ...]) -> None:
    (tmp_path / "Hat.jsonl").unlink(missing_ok=True)
    path = written(tmp_path, turns)
    assert read(tmp_path) == turns if turns else not path.exists()


def test_a_line_is_json_with_the_sum_of_all_before_it(tmp_path: Path) -> None:
    line = written(tmp_path, THREE[:1]).read_bytes()
    event = {"type": "Called", "round_no": 1, "words": "six in the ring"}
    assert line == sealed(v=1, n=1, at=AT, events=[event])
    body, _, end = line.rpartition(b',"sum":"')
    assert end == f'{zlib.crc32(body):08x}"}}\n'.encode()
    assert json.loads(line)["events"] == [event]


def test_what_is_appended_shows_at_once_and_the_count_goes_on(tmp_path: Path) -> None:
    written(tmp_path, THREE[:1])
    with Journal.open(tmp_path, "Hat", CODEC) as journal:
        for turn in THREE[1:]:
            journal.append(iter(turn.events), turn.at_iso)
        assert journal.turns == THREE
    numbers = [json.loads(line)["n"] for line in (tmp_path / "Hat.jsonl").read_bytes().splitlines()]
    assert numbers == [1, 2, 3]


def test_cut_at_every_byte_gives_a_prefix_says_so_and_goes_on(tmp_path: Path) -> None:
    path = written(tmp_path)
    whole = path.read_bytes()
    ends = [found.end() for found in re.finditer(rb"\n", whole)]
    for cut in range(len(whole) + 1):
        path.write_bytes(whole[:cut])
        kept = sum(end - 1 <= cut for end in ends)  # a line lacking just its newline is whole
        with Journal.open(tmp_path, "Hat", CODEC) as journal:
            assert journal.turns == THREE[:kept]
            assert journal.dropped_tail == (cut not in {0, *ends, *(end - 1 for end in ends)})
            assert path.read_bytes() == whole[:cut]  # opening changes nothing
            journal.append([Called(9, "on")], AT)
        assert read(tmp_path) == (*THREE[:kept], Turn((Called(9, "on"),), AT))


CHANGES: list[Callable[[int], int]] = [
    lambda byte: byte ^ 0x01,
    lambda byte: byte ^ 0x20,  # the other case of a letter
    lambda byte: byte ^ 0x80,  # no longer UTF-8
    lambda byte: 0x0A if byte != 0x0A else 0x00,
]


@pytest.mark.parametrize("change", CHANGES)
def test_any_byte_changed_is_refused_by_line_and_left_alone(
    tmp_path: Path, change: Callable[[int], int]
) -> None:
    path = written(tmp_path)
    whole = path.read_bytes()
    for place, byte in enumerate(whole):
        broken = whole[:place] + bytes([change(byte)]) + whole[place + 1 :]
        path.write_bytes(broken)
        with pytest.raises(JournalDamaged) as caught:
            Journal.open(tmp_path, "Hat", CODEC)
        assert (caught.value.path, caught.value.line) == (path, whole[:place].count(b"\n") + 1)
        assert path.read_bytes() == broken
    path.write_bytes(whole)
    assert read(tmp_path) == THREE  # and the lock was let go each time


def test_zeros_after_the_last_line_are_a_torn_tail(tmp_path: Path) -> None:
    """A file may grow before its data arrives: what is then read is zeros (from memory)."""
    path = written(tmp_path)
    path.write_bytes(path.read_bytes() + bytes(300))
    with Journal.open(tmp_path, "Hat", CODEC) as journal:
        assert (journal.turns, journal.dropped_tail) == (THREE, True)
        journal.append((), AT)
    assert len(read(tmp_path)) == 4


FIRST: dict[str, Any] = {"v": 1, "n": 1, "at": AT, "events": []}
CALLED = {"type": "Called", "round_no": 1, "words": ""}


@pytest.mark.parametrize(
    ("line", "why"),
    [
        (sealed(**{**FIRST, "n": 2}), "it says it is line 2"),
        (sealed(**{**FIRST, "n": "1"}), "of the wrong type"),
        (sealed(**{**FIRST, "v": 0}), "unknown member, version or time"),
        (sealed(**{**FIRST, "more": 1}), "unknown member"),
        (sealed(**{**FIRST, "at": "2026-03-01T18:30:00+00:00"}), "or time"),
        (sealed(**{**FIRST, "at": "2026-02-30T18:30:00Z"}), "or time"),
        (sealed(**{**FIRST, "events": [{"type": "Dreamt"}]}), "Dreamt is no known event"),
        (sealed(**{**FIRST, "events": [{**CALLED, "words": 1}]}), "int is not of type"),
        (sealed(**{**FIRST, "events": [1]}), "int of version 1"),
        (sealed(v=1, n=1, at=AT), "missing"),
        (sealed(**FIRST) + sealed(**FIRST), "it says it is line 1"),
        (sealed(**FIRST) + b"\n", "checksum"),
        (sealed(**FIRST).replace(b"\n", b"\r\n"), "checksum"),
        (b'{"v":1\n', "checksum"),
        (b'no JSON,"sum":"%08x"}\n' % zlib.crc32(b"no JSON"), "not JSON"),
    ],
)
def test_a_line_with_a_right_sum_but_wrong_content_is_refused(
    tmp_path: Path, line: bytes, why: str
) -> None:
    path = piece_path(tmp_path, "Hat")
    path.write_bytes(line)
    with pytest.raises(JournalDamaged, match=re.escape(why)) as caught:
        Journal.open(tmp_path, "Hat", CODEC)
    assert caught.value.line == (2 if line.count(b"\n") == 2 else 1)
    assert path.read_bytes() == line


def test_a_newer_version_is_named_and_left_alone(tmp_path: Path) -> None:
    newer = {"v": 7, "n": 2, "new": "form"}
    path = piece_path(tmp_path, "Hat")
    path.write_bytes(sealed(**FIRST) + sealed(**newer))
    with pytest.raises(JournalNewer, match="update the program") as caught:
        Journal.open(tmp_path, "Hat", CODEC)
    assert (caught.value.line, caught.value.version) == (2, 7)
    assert path.read_bytes() == sealed(**FIRST) + sealed(**newer)


def test_an_older_journal_is_read_and_goes_on_in_the_new_version(tmp_path: Path) -> None:
    then: Codec[Any] = Codec([make_dataclass("Called", [("round", int)], frozen=True)])
    upcast = {1: lambda record: {**CALLED, "round_no": record["round"]}}
    now: Codec[Called] = Codec([Called], 2, upcast)
    old = {"type": "Called", "round": 4}
    piece_path(tmp_path, "Hat").write_bytes(sealed(**{**FIRST, "events": [old]}))
    Journal.open(tmp_path, "Hat", then).close()
    with Journal.open(tmp_path, "Hat", now) as journal:
        journal.append([Called(5, "five")], AT)
    with Journal.open(tmp_path, "Hat", now) as journal:
        assert [turn.events for turn in journal.turns] == [(Called(4, ""),), (Called(5, "five"),)]
    with pytest.raises(JournalNewer):
        Journal.open(tmp_path, "Hat", then)


def test_what_cannot_be_recorded_is_refused_before_anything_is_written(tmp_path: Path) -> None:
    path = written(tmp_path)
    before = path.read_bytes()
    with Journal.open(tmp_path, "Hat", CODEC) as journal:
        with pytest.raises(BadRecord):
            journal.append([Called(1, ""), Called(2, "\ud800")], AT)
        for at_iso in ("", "2026-03-01", "2026-03-01T18:30:00", "2026-13-01T18:30:00Z", AT + "\n"):
            with pytest.raises(ValueError, match="is not a time in UTC"):
                journal.append([], at_iso)
        assert (journal.turns, path.read_bytes()) == (THREE, before)


def test_killed_at_random_instants_nothing_acknowledged_is_lost(tmp_path: Path) -> None:
    """Real children, real SIGKILL; one file through all of them, so that each heals the last."""
    pick = random.Random(20260301)
    acknowledged = 0
    for _ in range(36):
        loop = python("while True:\n    n += 1\n    append(journal, n)", tmp_path)
        with subprocess.Popen(loop, stdout=subprocess.PIPE, cwd=ROOT) as child:
            assert child.stdout is not None
            for _ in range(pick.randrange(1, 4)):
                child.stdout.readline()
            time.sleep(pick.random() * 0.01)
            child.kill()
            rest = child.stdout.read().split(b"\n")[:-1]
        acknowledged = int(rest[-1]) if rest else acknowledged
        with Journal.open(tmp_path, "Hat", CODEC) as journal:
            turns = journal.turns
        assert len(turns) >= acknowledged
        assert [turn.events for turn in turns] == [
            (Called(n, "words " * 20),) for n in range(1, len(turns) + 1)
        ]
    assert acknowledged > 36


def test_one_piece_is_open_in_one_session_at_a_time(tmp_path: Path) -> None:
    holder = python("append(journal, 1)\nsys.stdin.read()", tmp_path)
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE}
    with subprocess.Popen(holder, cwd=ROOT, **pipes) as child:  # type: ignore[call-overload]
        assert child.stdout.readline() == b"1\n"
        with pytest.raises(JournalLocked, match="open in another call"):
            Journal.open(tmp_path, "Hat", CODEC)
        with Journal.open(tmp_path, "hat two", CODEC):
            assert [piece.problem for piece in pieces(tmp_path, CODEC)] == [None, None]
        assert len(kept.read(tmp_path, "Hat", CODEC)) == 1
        child.kill()
    assert len(read(tmp_path)) == 1


def test_one_process_cannot_open_a_piece_twice_and_closing_lets_it_go(tmp_path: Path) -> None:
    journal = Journal.open(tmp_path, "Hat", CODEC)
    with pytest.raises(JournalLocked):
        Journal.open(tmp_path, "Hat", CODEC)
    journal.append([], AT)
    journal.close()
    journal.close()
    assert read(tmp_path) == (Turn((), AT),)
    with pytest.raises(ValueError, match="closed"):
        journal.append([], AT)


REFUSED = """
def refused(n):
    try:
        append(journal, n)
    except JournalError as refusal:
        print(type(refusal).__name__, refusal.why, flush=True)
        return True
"""


@pytest.mark.skipif(sys.platform == "win32", reason="file size limits are POSIX")
def test_a_write_cut_short_by_the_kernel_is_taken_back(tmp_path: Path) -> None:
    """RLIMIT_FSIZE: the write that reaches the limit is short, the next fails: setrlimit(2)."""
    code = """
import resource, signal
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
append(journal, 1)
size = (FOLDER / "Hat.jsonl").stat().st_size
top = resource.getrlimit(resource.RLIMIT_FSIZE)[1]
for room in (100, 0):
    resource.setrlimit(resource.RLIMIT_FSIZE, (size + room, top))
    assert refused(2)
    print((FOLDER / "Hat.jsonl").stat().st_size - size, len(journal.turns))
resource.setrlimit(resource.RLIMIT_FSIZE, (top, top))
append(journal, 2)
"""
    told = subprocess.check_output(python(REFUSED + code, tmp_path), cwd=ROOT, text=True)
    assert re.fullmatch(
        r"1\nJournalUnwritable room for only 100 of \d+ bytes\n0 1\n"
        r"JournalUnwritable File too large\n0 1\n2\n",
        told,
    )
    assert [turn.events[0].round_no for turn in read(tmp_path)] == [1, 2]


def mounted(tmp_path: Path, then: str) -> str:
    """Run a child with a file system of 64 KiB of its own, which goes away with the child."""
    unshare = shutil.which("unshare")
    enter = [str(unshare), "--mount", "--map-root-user", "sh", "-ec"]
    mount = f"mount -t tmpfs -o size=64k none '{tmp_path}'"
    if (
        unshare is None
        or subprocess.run([*enter, mount], check=False, capture_output=True).returncode
    ):
        pytest.skip("no leave to mount a file system in a namespace here")
    command = [*enter, f'{mount}; exec "$@"', "sh", *python(REFUSED + then, tmp_path)]
    return subprocess.run(command, cwd=ROOT, text=True, check=True, stdout=subprocess.PIPE).stdout


def test_on_a_full_disk_turns_kept_stay_and_room_made_is_used(tmp_path: Path) -> None:
    code = """
filler = FOLDER / "filler"
filler.write_bytes(bytes(48 * 1024))
while not refused(n + 1):
    n += 1
turns = journal.turns
journal.close()
journal = Journal.open(FOLDER, "Hat", Codec([Called]))  # opening works on a full disk
assert (journal.turns, journal.dropped_tail) == (turns, False) and len(turns) == n > 10
assert refused(n + 1)
filler.unlink()
append(journal, n + 1)
journal.close()
journal = Journal.open(FOLDER, "Hat", Codec([Called]))
assert [turn.events[0].round_no for turn in journal.turns] == list(range(1, n + 2))
print("read back")
"""
    told = mounted(tmp_path, code).splitlines()
    refusals = [line for line in told if line.startswith("JournalUnwritable")]
    assert len(refusals) == 2
    assert all(re.search("room for only|No space left", line) for line in refusals)
    assert told[-1] == "read back"


def test_a_folder_that_becomes_read_only_is_said(tmp_path: Path) -> None:
    """Permission bits do not bind root, so the file system itself is made read-only."""
    code = """
import subprocess
append(journal, 1)
journal.close()
subprocess.run(["mount", "-o", "remount,ro", FOLDER], check=True)
try:
    Journal.open(FOLDER, "Hat", Codec([Called]))
except JournalError as refusal:
    print(type(refusal).__name__, refusal.why)
"""
    assert mounted(tmp_path, code) == "1\nJournalUnwritable Read-only file system\n"


def test_a_folder_that_cannot_be_one_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    for folder in (tmp_path / "file", tmp_path / "file" / "deeper"):
        with pytest.raises(JournalUnwritable, match="nothing already kept is lost"):
            Journal.open(folder, "Hat", CODEC)
    with pytest.raises(JournalUnreadable, match="allow reading there"):
        pieces(tmp_path / "file", CODEC)
    (tmp_path / "Hat.jsonl").mkdir()
    with pytest.raises(NotAPiece, match="no regular file"):
        Journal.open(tmp_path, "Hat", CODEC)
    (tmp_path / "Hat.jsonl").rmdir()
    Journal.open(tmp_path, "Hat", CODEC).close()


def test_a_sync_that_fails_or_is_interrupted_takes_the_turn_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A fake of a disk that breaks late, beside the real full ones above."""
    path = written(tmp_path, THREE[:1])
    before = path.read_bytes()

    def failing(_: int) -> None:
        raise OSError(errno.EIO, "Input/output error")

    def interrupted(_: int) -> None:
        raise KeyboardInterrupt

    with Journal.open(tmp_path, "Hat", CODEC) as journal:
        with monkeypatch.context() as broken:
            broken.setattr(os, "fsync", failing)
            with pytest.raises(JournalUnwritable, match="Input/output error"):
                journal.append(THREE[1].events, AT)
            assert (journal.turns, path.read_bytes()) == (THREE[:1], before)
            broken.setattr(os, "fsync", interrupted)
            with pytest.raises(KeyboardInterrupt):
                journal.append(THREE[1].events, AT)
            assert journal.turns == THREE[:1]
        for turn in THREE[1:]:
            journal.append(turn.events, turn.at_iso)
    assert read(tmp_path) == THREE


class Unread(io.FileIO):
    """A file on a disk that no longer gives it back."""

    def read(self, _: int | None = -1, /) -> bytes:
        raise OSError(errno.EIO, "Input/output error")


class Half(io.FileIO):
    """A file on a disk with little room."""

    def write(self, data: Any, /) -> int:  # noqa: ANN401 (as in the class above it)
        return super().write(bytes(data)[:50])


def test_a_file_that_opens_but_cannot_be_read_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A fake, beside a real file that cannot be read in the listing of pieces below."""
    written(tmp_path)
    with monkeypatch.context() as broken:
        broken.setattr(disk, "FileIO", Unread)
        with pytest.raises(JournalUnreadable, match="was left as it is"):
            Journal.open(tmp_path, "Hat", CODEC)
    assert read(tmp_path) == THREE


def test_a_short_write_is_taken_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A fake, beside the real short writes above; the folders of a new piece are made."""
    folder = tmp_path / "new" / "folder"
    with monkeypatch.context() as broken:
        broken.setattr(disk, "FileIO", Half)
        with Journal.open(folder, "Hat", CODEC) as journal:
            with pytest.raises(JournalUnwritable, match="room for only 50 of"):
                journal.append(THREE[0].events, AT)
            assert (journal.turns, journal.path.read_bytes()) == ((), b"")
    assert not list(folder.iterdir())


@pytest.mark.skipif(not shutil.which("strace"), reason="needs strace to watch the system calls")
def test_a_turn_is_one_write_then_a_sync_before_it_is_acknowledged(tmp_path: Path) -> None:
    """Watched from outside; a new file is made durable in its folder too: fsync(2), NOTES."""
    trace = tmp_path / "trace"
    calls = "trace=write,pwrite64,writev,fsync,fdatasync"
    strace = ["strace", "-y", "-qq", "-e", calls, "-o", str(trace)]
    folder = tmp_path / "new" / "folder"
    watched = [*strace, *python("append(journal, 1)\nappend(journal, 2)", folder)]
    if subprocess.run(watched, cwd=ROOT, check=False, capture_output=True).returncode:
        pytest.skip("no leave to trace a process here")
    seen = re.findall(r"^(\w+)\(\d+<([^>]*)>", trace.read_text(), re.MULTILINE)
    path = str(folder / "Hat.jsonl")
    told = [(call, name if name.startswith(str(tmp_path)) else "told") for call, name in seen]
    assert told == [
        *[("fsync", str(made.parent)) for made in (folder, folder.parent)],
        *[("fsync", path), ("fsync", str(folder))],
        *[("write", path), ("fsync", path), ("write", "told")] * 2,
    ]


@pytest.mark.parametrize("name", ["Hat", "h", "Zoë", "blue_hat-2", "A b", "7", "x" * 60])
def test_a_good_name_is_kept_as_it_is(tmp_path: Path, name: str) -> None:
    with Journal.open(tmp_path, name, CODEC) as journal:
        assert journal.path == tmp_path / f"{name}.jsonl"
        journal.append([], AT)
    assert [piece.name for piece in pieces(tmp_path, CODEC)] == [name]


def test_an_accent_typed_apart_is_the_same_name(tmp_path: Path) -> None:
    """Source: Unicode Standard Annex 15, normalisation form C."""
    assert piece_path(tmp_path, "Zoe\u0308") == piece_path(tmp_path, "Zo\u00eb")


BAD_NAMES = [
    *("", " ", " Hat", "Hat ", "-rf", "_", "x" * 61, "a/b", "a\\b", "..", ".", ".hat", "a.b", "/"),
    *("a\0b", "a\nb", "Hat\n", "a\tb", "C:", "a*", "a?", "~", "$HOME", "\ud800", "a\u2028b"),
    *("con", "NUL", "Com1", "lpt\u00b9"),  # Microsoft, "Naming Files, Paths, and Namespaces"
]


@pytest.mark.parametrize("name", BAD_NAMES, ids=ascii)
def test_a_bad_name_touches_nothing(tmp_path: Path, name: str) -> None:
    with pytest.raises(BadPieceName, match="letters, digits"):
        Journal.open(tmp_path / "pieces", name, CODEC)
    assert not list(tmp_path.iterdir())


@given(st.text(min_size=1))
def test_a_name_never_leaves_its_folder(name: str) -> None:
    try:
        path = piece_path(Path("pieces"), name)
    except BadPieceName:
        return
    assert path.parent == Path("pieces")
    assert len(path.name.encode()) <= 255  # NAME_MAX, limits.h on Linux


def test_only_a_piece_that_is_there_is_opened_without_create(tmp_path: Path) -> None:
    with pytest.raises(NoSuchPiece, match="no piece called Hat"):
        Journal.open(tmp_path / "none", "Hat", CODEC, create=False)
    assert not list(tmp_path.iterdir())


def test_the_pieces_of_a_folder_with_their_last_time_or_trouble(tmp_path: Path) -> None:
    assert pieces(tmp_path / "none", CODEC) == ()
    whole = written(tmp_path).read_bytes()
    for name, data in (
        ("Begun", b""),
        ("Newer", sealed(v=2, n=1)),
        ("Torn", whole[:-5]),
        ("broken", whole[1:]),
        ("not.a.piece", whole),
    ):
        (tmp_path / f"{name}.jsonl").write_bytes(data)
    (tmp_path / "folder.jsonl").mkdir()
    (tmp_path / "notes.txt").write_text("no piece")
    with Journal.open(tmp_path, "Hat", CODEC):
        found = pieces(tmp_path, CODEC)
    assert [(piece.name, piece.last_at_iso, type(piece.problem)) for piece in found] == [
        ("Begun", None, type(None)),
        ("Hat", AT, type(None)),
        ("Newer", None, JournalNewer),
        ("Torn", LATER, type(None)),
        ("broken", None, JournalDamaged),
        ("folder", None, NotAPiece),
    ]
    assert (tmp_path / "Torn.jsonl").read_bytes() == whole[:-5]


@pytest.mark.skipif(not Path("/proc/self/mem").exists(), reason="needs Linux's /proc")
def test_a_piece_that_cannot_be_read_is_listed_with_the_reason(tmp_path: Path) -> None:
    """Reading one's own memory at address 0 fails with EIO: proc(5)."""
    (tmp_path / "Hat.jsonl").symlink_to("/proc/self/mem")
    (piece,) = pieces(tmp_path, CODEC)
    assert isinstance(piece.problem, JournalUnreadable)
    assert piece.problem.why == os.strerror(errno.EIO)


PATH = Path("pieces") / "Hat.jsonl"
SENTENCES = [
    BadRecord("no such event"),
    JournalDamaged(PATH, 3, "its checksum does not match"),
    JournalNewer(PATH, 3, 2),
    JournalLocked(PATH),
    JournalUnwritable(PATH, "No space left on device"),
    JournalUnreadable(PATH, "Input/output error"),
    JournalReplaced(PATH, "was removed", "Hat 2026-03-01 18-30-05"),
    JournalGone(PATH, "was removed", "No space left on device"),
    NotAPiece(PATH, "it is no regular file"),
    NoSuchPiece("Hat", PATH.parent),
    BadPieceName("a/b"),
]


@pytest.mark.parametrize("error", SENTENCES, ids=lambda error: type(error).__name__)
def test_an_error_is_one_sentence_with_what_to_do(error: RoundsAloudError) -> None:
    sentence = str(error).replace(str(PATH), "the file")
    assert re.fullmatch(r"[A-Z't][^.;:]*[;:,][^.;]*\.", sentence)
    assert all(str(value) in str(error) for value in vars(error).values())


def test_no_error_is_left_out_above() -> None:
    found = {**vars(errors), **vars(journal_errors)}.values()
    kinds = {kind for kind in found if isinstance(kind, type)}
    leaves = {kind for kind in kinds if issubclass(kind, (JournalError, BadRecord))}
    assert leaves - {JournalError} == {type(error) for error in SENTENCES}
    assert issubclass(JournalError, RoundsAloudError)
