"""Files that are no pieces, or no longer: one sentence tells it, and they are left as they are.

Every reader is asked: the journal that would write, the one that only reads, and the list.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import zlib
from contextlib import suppress
from dataclasses import dataclass
from io import FileIO
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pattern.errors import BadRecord
from pattern.journal import disk, lines
from pattern.journal.journal import Journal
from pattern.journal.journal_errors import JournalDamaged, JournalError, NotAPiece
from pattern.journal.kept import pieces, read
from pattern.journal.lines import Turn
from pattern.journal.records import Codec
from pattern.session.events import Event, NoteTaken, RoundsTakenBack
from pattern.session.history import CODEC, state_read
from pattern.session.state import State
from tests.openings import opening
from tests.properties import examples
from voice.caller.caller import TORN, Caller
from voice.cli import app

ROOT = Path(__file__).parents[1]
AT = "2026-03-01T18:30:00Z"
HARMLESS = [HealthCheck.function_scoped_fixture, HealthCheck.too_slow]


def sealed(body: bytes) -> bytes:
    """A line with a right checksum, whatever it holds."""
    return body + b',"sum":"%08x"}\n' % zlib.crc32(body)


def line(events: str, n: int = 1) -> bytes:
    return sealed(f'{{"v":{CODEC.version},"n":{n},"at":"{AT}","events":{events}'.encode())


def first_line() -> bytes:
    events = [CODEC.encode(event) for event in opening(State(), {"head_mm": 560.0})]
    return line(json.dumps(events, separators=(",", ":")))


def refused(folder: Path, data: bytes, kind: type[JournalError]) -> JournalError:
    """The error that all readers give alike, the file being left as it is."""
    path = folder / "Hat.jsonl"
    path.write_bytes(data)
    with pytest.raises(kind) as opened:
        Journal.open(folder, "Hat", CODEC)
    with pytest.raises(kind) as looked_at:
        read(folder, "Hat", CODEC)
    (listed,) = pieces(folder, CODEC)
    assert str(opened.value) == str(looked_at.value) == str(listed.problem)
    assert path.read_bytes() == data
    assert list(folder.iterdir()) == [path]
    return opened.value


OURS = b'{"v":%d,"n":1,"at":"' % CODEC.version


@settings(suppress_health_check=HARMLESS)
@given(
    data=st.binary(min_size=1)
    | st.text(min_size=1).map(str.encode)
    | st.recursive(
        st.none() | st.integers() | st.text(),
        lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner),
    ).map(lambda any_: json.dumps(any_).encode())
)
def test_a_first_line_that_is_not_ours_is_left_alone(tmp_path: Path, data: bytes) -> None:
    begun = data.rstrip(b"\0")
    if OURS.startswith(begun):  # a torn beginning of ours, or nothing but zeros
        return
    error = refused(tmp_path, data, JournalDamaged)
    assert isinstance(error, JournalDamaged)
    assert error.line == 1


@pytest.mark.parametrize(
    "data",
    [
        b'{"pieces": [1, 2, 3]}',
        b'{"v":1}',
        b"[]",
        b'{"v":1,"n":2,"at":"2026',
        b"\0\0{",
        b" {",
        b'{"v":99,"n":1,"at":"',
    ],
)
def test_no_file_of_another_program_is_written_over(tmp_path: Path, data: bytes) -> None:
    refused(tmp_path, data, JournalDamaged)


@pytest.mark.parametrize("behind", [b"not ours", b'{"v":4,"n":1,"at":"2026', b"{}", b"\0x"])
def test_what_follows_the_last_line_and_is_not_ours_is_left_alone(
    tmp_path: Path, behind: bytes
) -> None:
    error = refused(tmp_path, first_line() + behind, JournalDamaged)
    assert isinstance(error, JournalDamaged)
    assert error.line == 2


def test_a_torn_first_line_is_dropped_and_said(tmp_path: Path) -> None:
    whole = first_line()
    for cut in range(1, len(whole) - 1):
        (tmp_path / "Hat.jsonl").write_bytes(whole[:cut] + bytes(cut % 3))
        with Journal.open(tmp_path, "Hat", CODEC) as journal:
            assert journal.dropped_tail
            assert Caller(journal).open().say.startswith(f"{TORN} ")
        assert len(read(tmp_path, "Hat", CODEC)) == 1


DEEP = "[" * 100_000 + "]" * 100_000
HUGE = "9" * 100_000


@pytest.mark.parametrize(
    "events",
    [
        DEEP,
        f"[{DEEP}]",
        f'[{{"type":{DEEP}}}]',
        f"[{DEEP.replace('[', '{').replace(']', '}')}]",
        f'[{{"type":{"[" * 900 + "]" * 900}}}]',
        HUGE,
        f"[{HUGE}]",
        f'[{{"type":{HUGE[:4000]}}}]',
        f'[{{"type":"NoteTaken","text":"","round":{HUGE[:4000]}}}]',
        "[NaN]",
        '[{"type":"NoteTaken","text":"\\ud800","round":0}]',
        '[{"type":"NoteTaken","text":"","round":1e999}]',
    ],
    ids=lambda events: events[:12],
)
def test_a_line_that_no_decoder_likes_is_damaged(tmp_path: Path, events: str) -> None:
    error = refused(tmp_path, first_line() + line(events, 2), JournalDamaged)
    assert isinstance(error, JournalDamaged)
    assert error.line == 2
    assert len(error.why) <= 200


@dataclass(frozen=True)
class Picky:
    """An event that looks its numbers up, as one of a later version may."""

    n: int

    def __post_init__(self) -> None:
        assert ("known",)[self.n]


@pytest.mark.parametrize("n", [0, 1])
def test_whatever_making_an_event_raises_is_damage(n: int) -> None:
    data = line(f'[{{"type":"Picky","n":{n}}}]')
    codec = Codec([Picky], CODEC.version, dict.fromkeys(range(1, CODEC.version), dict))
    if n == 0:
        assert lines.read_lines(Path("Hat.jsonl"), data, codec).turns[0].events == (Picky(0),)
        return
    with pytest.raises(JournalDamaged):
        lines.read_lines(Path("Hat.jsonl"), data, codec)


RECORDS = st.fixed_dictionaries(
    {"type": st.sampled_from([kind.__name__ for kind in CODEC._events])},
    optional={
        name: st.none()
        | st.booleans()
        | st.integers()
        | st.floats()
        | st.text(max_size=3)
        | st.lists(st.integers(), max_size=2)
        | st.just({"type": "Round"})
        for name in sorted({n for kind in CODEC._events for n in CODEC._hints[kind]})
    },
)


@settings(suppress_health_check=HARMLESS)
@given(record=RECORDS, version=st.integers(1, CODEC.version))
def test_any_record_is_read_or_is_damage(record: dict[str, Any], version: int) -> None:
    """Of every version, so that each way up from it meets it too."""
    body = f'{{"v":{version},"n":1,"at":"{AT}","events":{json.dumps([record])}'
    with suppress(JournalDamaged):
        assert len(lines.read_lines(Path("Hat.jsonl"), sealed(body.encode()), CODEC).turns) == 1


@settings(max_examples=examples(300), suppress_health_check=HARMLESS)
@given(events=st.lists(st.sampled_from(CODEC._events).flatmap(st.from_type), max_size=3))
def test_events_in_any_order_add_up_or_are_damage(events: list[Event]) -> None:
    """Each by itself is one of ours; in this order this program would not have written them."""
    with suppress(JournalDamaged):
        assert state_read(Path("Hat.jsonl"), [Turn(tuple(events), AT)]) is not None


def test_a_line_that_does_not_fit_those_before_is_told_by_number(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    unfit = json.dumps([CODEC.encode(RoundsTakenBack(3, ripped=False))])
    (tmp_path / "hat.jsonl").write_bytes(first_line() + line(unfit, 2))
    for args in (("pieces",), ("writeup", "hat"), ("call", "--typed", "--piece", "hat")):
        app.main([*args, "--folder", str(tmp_path)])
        out, err = capfd.readouterr()
        assert (out + err).count("\n") == 1
        assert "Line 2 of" in out + err


def test_one_bad_piece_does_not_hide_the_others(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "bad.jsonl").write_bytes(line(DEEP))
    (tmp_path / "device.jsonl").symlink_to("/dev/zero")
    (tmp_path / "good.jsonl").write_bytes(first_line())
    assert app.main(["pieces", "--folder", str(tmp_path)]) == 0
    listed = capfd.readouterr().out.splitlines()
    assert [told.partition(":")[0] for told in listed] == ["bad", "device", "good"]
    assert "Line 1 of" in listed[0]
    assert "no regular file" in listed[1]
    assert "is damaged" not in listed[2]


@pytest.mark.parametrize("ended", [b"\n", b""])
def test_a_line_holds_a_megabyte_at_most(tmp_path: Path, ended: bytes) -> None:
    most = lines.MOST_BYTES
    with Journal.open(tmp_path, "Hat", CODEC) as journal:
        with pytest.raises(BadRecord, match="more than a line may have"):
            journal.append([NoteTaken("x" * most, 0)], AT)
        assert journal.path.read_bytes() == b""
        journal.append([NoteTaken("x" * (most - 200), 0)], AT)
    whole = (tmp_path / "Hat.jsonl").read_bytes()
    assert most - 200 < len(whole) <= most + 1
    assert len(read(tmp_path, "Hat", CODEC)) == 1
    longer = line(json.dumps([{"type": "NoteTaken", "text": "x" * most, "round": 0}]))[:-1] + ended
    assert "longer than 1 MB" in str(refused(tmp_path, longer, JournalDamaged))
    torn = OURS + b"x" * most
    assert "longer than 1 MB" in str(refused(tmp_path, torn, JournalDamaged))


def test_a_piece_holds_64_megabytes_at_most(tmp_path: Path) -> None:
    path = tmp_path / "Hat.jsonl"
    path.write_bytes(first_line())
    os.truncate(path, disk.MOST_BYTES + 1)  # sparse: it takes no room
    for look in (Journal.open, read):
        with pytest.raises(NotAPiece, match="larger than 64 MB"):
            look(tmp_path, "Hat", CODEC)


class Endless(FileIO):
    """A regular file, empty by its size, that gives zeros for ever, as some of /proc might."""

    def read(self, size: int | None = -1, /) -> bytes:
        return bytes(max(size or 0, 0))


def test_what_says_it_is_small_is_counted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "Hat.jsonl").touch()
    monkeypatch.setattr(disk, "FileIO", Endless)
    for look in (Journal.open, read):
        with pytest.raises(NotAPiece, match="larger than 64 MB"):
            look(tmp_path, "Hat", CODEC)


def test_no_turn_makes_a_piece_larger_than_can_be_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from pattern.journal import journal as module

    with Journal.open(tmp_path, "Hat", CODEC) as journal:
        journal.append([NoteTaken("one", 0)], AT)
        before = journal.path.read_bytes()
        monkeypatch.setattr(module, "MOST_BYTES", len(before) + 10)
        with pytest.raises(JournalError, match="holds no more than"):
            journal.append([NoteTaken("two", 0)], AT)
        assert journal.path.read_bytes() == before


BOUNDED = """
import resource, sys
from pathlib import Path
from voice.cli import app
limit = 1 << 30
resource.setrlimit(resource.RLIMIT_AS, (limit, limit))
sys.exit(app.main(sys.argv[1:]))
"""


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="needs a device that never ends")
@pytest.mark.parametrize("target", ["/dev/zero", "pipe", "folder"])
@pytest.mark.parametrize("command", ["writeup", "pieces", "call"])
def test_what_is_no_regular_file_is_one_sentence(tmp_path: Path, target: str, command: str) -> None:
    """In a process that may use a gigabyte: setrlimit(2). A pipe that nobody writes would wait."""
    if target == "pipe":
        os.mkfifo(tmp_path / "hat.jsonl")
    elif target == "folder":
        (tmp_path / "hat.jsonl").mkdir()
    else:
        (tmp_path / "hat.jsonl").symlink_to(target)
    args = {"writeup": ["hat"], "pieces": [], "call": ["--typed", "--piece", "hat"]}[command]
    done = subprocess.run(
        [sys.executable, "-c", BOUNDED, command, *args, "--folder", str(tmp_path)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        stdin=subprocess.DEVNULL,
        check=False,
    )
    told = done.stdout + done.stderr
    assert told.count("\n") == 1
    assert "is no piece" in told
    assert done.returncode == (0 if command == "pieces" else 1)
