"""Journals that were damaged: read as they were, or refused with a sentence and left alone."""

from __future__ import annotations

import random
import shutil
from pathlib import Path

from pattern.journal.journal_errors import JournalError
from pattern.journal.lines import Turn, read_lines
from pattern.session.events import Event
from pattern.session.history import CODEC
from tests.bench.attack.field import Field, TooLong, here, limited
from tests.command_lines import ended

FOREIGN = (
    b"",
    b"\n",
    b"\x00" * 500,
    b"{}\n",
    b"[]\n",
    b"null\n",
    b'{"v":1}\n',
    b"PK\x03\x04",
    b"\xff\xfe",
    b"[" * 100_000 + b"\n",
    b'{"v":' + b"9" * 5000 + b"}\n",
)


def corruptions(field: Field) -> None:
    """Flip, cut, insert, duplicate, swap, and files of other kinds."""
    with here(field.place):
        whole = _good(field.place)
        turns = read_lines(Path("x"), whole, CODEC).turns
        while field.going:
            data, how = _corrupted(whole, field.rng)
            field.check(_opened(field.place / "broken", data, turns), how)


def _good(place: Path) -> bytes:
    """A piece with some of everything."""
    words = b"next\nnext\nnote a knot\nacross 9\nno\nnext\ncount nine\nundo\nnext\npause\nresume\n"
    ended(
        ["call", "--typed", "--piece=x", f"--folder={place}", "--head=42cm", "--yarn=6"],
        words + b"next\n" * 6,
    )
    return (place / "x.jsonl").read_bytes()


def _corrupted(whole: bytes, rng: random.Random) -> tuple[bytes, str]:
    data, lines = bytearray(whole), whole.splitlines(keepends=True)
    at, other = rng.randrange(len(whole)), rng.randrange(len(lines))
    how = rng.choice(["flip", "cut", "insert", "remove", "twice", "swap", "foreign", "line"])
    match how:
        case "flip":
            data[at] ^= 1 << rng.randrange(8)
        case "cut":
            del data[at:]
        case "insert":
            data[at:at] = rng.randbytes(rng.randint(1, 20))
        case "remove":
            del data[at : at + rng.randint(1, 200)]
        case "twice" | "swap" | "line":
            again = rng.randrange(len(lines))
            match how:
                case "twice":
                    lines.insert(again, lines[other])
                case "swap":
                    lines[again], lines[other] = lines[other], lines[again]
                case _:
                    lines.insert(again, rng.choice(FOREIGN))
            data = bytearray(b"".join(lines))
        case _:
            data = bytearray(rng.choice([*FOREIGN, rng.randbytes(rng.randint(1, 300))]))
    return bytes(data), f"{how} at {at}, line {other}"


def _opened(folder: Path, data: bytes, turns: tuple[Turn[Event], ...]) -> str | None:
    """Why it fell when the damaged piece was opened; None where it stood."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    file = folder / "x.jsonl"
    file.write_bytes(data)
    try:
        found = read_lines(file, data, CODEC).turns
        readable, as_it_was = True, found == turns[: len(found)]
    except JournalError:
        readable, as_it_was = False, True
    except Exception as fault:  # whatever it is, it is no refusal
        return f"read with {fault!r}"
    if not as_it_was:
        return "read as it never was"
    for argv in (["pieces"], ["writeup", "x"], ["call", "--typed", "--piece=x"]):
        try:
            with limited():
                ran = ended([*argv, f"--folder={folder}"], b"")
        except TooLong:
            return f"{argv[0]}: no end within 10 s"
        if ran.fallen:
            return f"{argv[0]}: {ran.fallen}"
        if argv[0] != "pieces" and (ran.code == 0) != readable:
            return f"{argv[0]}: ended with {ran.code}"
        if not readable and file.read_bytes() != data:
            return f"{argv[0]}: changed what it could not read"
    return None
