"""Who only reads pieces: beside a call, of what may only be read, and without leaving a trace.

What the program asks of the system is watched: PEP 578, audit hooks.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.command_lines import ended
from tests.test_call import HAT, ROOT, program, replies, run

WATCHED = """
import os, sys
from voice.cli import app

WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
folder = sys.argv[1]

def hook(event, args):
    if event == "open" and str(args[0]).startswith(folder) and args[2] & WRITES:
        print("WRITES", event, args, file=sys.stderr)
    elif event in ("os.mkdir", "os.remove", "os.rename", "os.truncate", "os.chmod", "os.utime",
                   "fcntl.flock", "fcntl.lockf", "fcntl.fcntl", "msvcrt.locking"):
        print("WRITES", event, args, file=sys.stderr)

import voice.cli.braille, pattern.journal.journal  # noqa
fsync = os.fsync
os.fsync = lambda number: print("WRITES fsync", file=sys.stderr) or fsync(number)
sys.addaudithook(hook)
sys.exit(app.main([*sys.argv[2:], "--folder", folder]))
"""


def watched(folder: Path, *args: str, typed: bytes = b"") -> subprocess.CompletedProcess[bytes]:
    """The command under the watch; Python itself writes no bytecode."""
    return subprocess.run(
        [sys.executable, "-B", "-c", WATCHED, str(folder), *args],
        input=typed,
        capture_output=True,
        cwd=ROOT,
        check=False,
    )


READERS = (("writeup", "test"), ("writeup", "test", "--format", "html"), ("pieces",))
LIKE = ("call", "--typed", "--like", "test", "--head", "52cm")


@pytest.mark.parametrize("args", READERS, ids=" ".join)
def test_reading_opens_nothing_to_write_and_makes_and_locks_nothing(
    tmp_path: Path, args: tuple[str, ...]
) -> None:
    replies(tmp_path, "next")
    done = watched(tmp_path, *args)
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout
    missing = watched(tmp_path / "none", *args)
    assert b"WRITES" not in missing.stderr
    assert not (tmp_path / "none").exists()


def test_a_call_is_seen_to_write() -> None:
    """The watch above would see it."""
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        seen = watched(Path(folder), "call", "--typed", *HAT).stderr
    assert all(word in seen for word in (b"WRITES open", b"flock", b"fsync"))


def test_of_another_piece_only_that_is_read_which_begins_like_it(tmp_path: Path) -> None:
    replies(tmp_path / "a", *["next"] * 9, "12.4 cm across")
    seen = watched(tmp_path / "a", "call", "--typed", "--like", "test", "--head", "50cm").stderr
    assert b"hat 1.jsonl" in seen
    assert b"test.jsonl" not in seen


@pytest.mark.parametrize("args", [*READERS, LIKE], ids=" ".join)
def test_beside_an_open_call(tmp_path: Path, args: tuple[str, ...]) -> None:
    calling = program(
        "call", "--typed", "--json", "--folder", str(tmp_path), "--piece", "test", *HAT
    )
    with subprocess.Popen(calling, stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=ROOT) as call:
        assert call.stdin is not None
        assert call.stdout is not None
        call.stdout.readline()
        for asked in ("next", "across 3 cm", "next"):
            call.stdin.write(asked.encode() + b"\n")
            call.stdin.flush()
            last = json.loads(call.stdout.readline())
            read = ended([*args, "--folder", str(tmp_path)], b"")
            told = read.out + read.err
            assert "open in another call" not in told
            assert (read.code == 0) or "never measured" in told
        assert last["round"] == 3
        assert ended(["call", "--typed", "--folder", str(tmp_path), "--piece", "test"]).code == 1
        call.stdin.close()
    assert replies(tmp_path)[0]["round"] == 3


def test_without_a_name_a_call_passes_over_nothing_but_what_is_done(tmp_path: Path) -> None:
    """The one worked on last is open in another call, and that is said."""
    calling = program(
        "call", "--typed", "--json", "--folder", str(tmp_path), "--piece", "test", *HAT
    )
    with subprocess.Popen(calling, stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=ROOT) as call:
        assert call.stdout is not None
        call.stdout.readline()
        second = ended(["call", "--typed", "--folder", str(tmp_path)])
        assert "open in another call" in second.err
        call.kill()


def test_of_what_may_only_be_read(tmp_path: Path) -> None:
    """Without root's right to write all the same: capabilities(7)."""
    replies(tmp_path, "next")
    (tmp_path / "test.jsonl").chmod(0o444)
    tmp_path.chmod(0o555)
    bound = ["setpriv", "--bounding-set", "-all", "--inh-caps", "-all"] if os.getuid() == 0 else []
    if bound and not shutil.which("setpriv"):
        pytest.skip("needs setpriv to be bound by modes")
    for change in ('echo >> "$1/test.jsonl"', 'echo > "$1/new"'):
        tried = [*bound, "sh", "-c", change, "sh", str(tmp_path)]
        assert subprocess.run(tried, capture_output=True, check=False).returncode != 0
    command = program("writeup", "test", "--folder", str(tmp_path))
    done = subprocess.run([*bound, *command], capture_output=True, cwd=ROOT, check=False)
    tmp_path.chmod(0o755)
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"pattern as made so far" in done.stdout


@pytest.mark.skipif(not Path("/proc/self").exists(), reason="needs Linux's /proc")
def test_a_folder_where_nothing_can_be_made_is_said_as_that() -> None:
    done = ended(["call", "--typed", "--folder", "/proc/self", *HAT])
    assert done.code == 1
    assert "cannot be written (No such file or directory)" in done.err
    for args in READERS:
        told = ended([*args, "--folder", "/proc/self"])
        assert "another call" not in told.err + told.out


FAILING = [
    (("--hook", "90"), 2),
    (("--like", "nothing"), 1),
    (("--stitch", "purl"), 2),
    (("--keep-audio", "/dev/null/x"), 1),
    (("--piece", "a/b"), 1),
]


@pytest.mark.parametrize(("options", "code"), FAILING, ids=str)
def test_a_start_that_fails_leaves_no_file(
    tmp_path: Path, options: tuple[str, ...], code: int
) -> None:
    done = ended(["call", "--folder", str(tmp_path), *HAT, *options])
    assert done.code == code, done
    assert not list(tmp_path.iterdir())


def test_a_start_that_fails_leaves_a_piece_that_was_there(tmp_path: Path) -> None:
    replies(tmp_path)
    before = (tmp_path / "test.jsonl").read_bytes()
    run("call", "--folder", str(tmp_path), "--piece", "test", "--keep-audio", "/dev/null/x")
    assert (tmp_path / "test.jsonl").read_bytes() == before


def test_a_call_in_which_nothing_is_said_leaves_no_file(tmp_path: Path) -> None:
    def call(typed: bytes) -> list[str]:
        assert ended(["call", "--typed", "--folder", str(tmp_path)], typed).code == 0
        return [path.name for path in tmp_path.iterdir()]

    assert [call(typed) for typed in (b"", b"help\n")] == [[], []]
    assert call(b"cm\n") == ["hat 1.jsonl"]
