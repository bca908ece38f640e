"""Calls that are killed, and pieces that somebody else touches while they are open."""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import time
from pathlib import Path

from pattern.journal.journal import Journal
from pattern.session.history import CODEC
from tests.bench.attack.field import Field
from tests.bench.attack.talking import BEGIN_S, Talk, talk

KEPT = "Noted at round"
"""What an answered note begins with; a note that is refused does not."""


def _note(call: Talk, number: int) -> str | None:
    """The note, where it was answered as kept."""
    text = f"knot {number}"
    if not call.type(f"note {text}".encode()):
        return None
    said = call.reply(BEGIN_S)
    return text if said and said["say"].startswith(KEPT) else None


def _notes_in(folder: Path) -> set[str]:
    """All notes of all files in a folder, whole or not."""
    text = b"".join(file.read_bytes() for file in folder.rglob("*.jsonl*")).decode(errors="replace")
    return {part.partition('"')[0] for part in text.split('"text":"')[1:]}


def kills(field: Field) -> None:
    """By three signals at random moments: every answered turn is in the journal after."""
    # What is ignored here, as under nohup, is ignored by its children too.
    numbers = [
        number
        for number in (signal.SIGKILL, signal.SIGTERM, signal.SIGHUP)
        if signal.getsignal(number) is not signal.SIG_IGN
    ]
    while field.going:
        folder = field.place / f"killed {field.tried}"
        number = field.rng.choice(numbers)
        try:
            kept = _until_killed(field, folder, number)
        except subprocess.TimeoutExpired:
            field.check("no end after it was killed", number.name)
            continue
        lost = set(kept) - (_notes_in(folder) if folder.exists() else set())
        why = f"answered and lost {sorted(lost)}" if lost else None
        try:
            if folder.exists():
                with Journal.open(folder, "x", CODEC):
                    pass
        except Exception as fault:  # it is all the same why: it must open
            why = why or f"does not open again ({fault})"
        field.check(why, (number.name, len(kept)))
        shutil.rmtree(folder, ignore_errors=True)


def _until_killed(field: Field, folder: Path, number: signal.Signals) -> list[str]:
    """The notes that were answered."""
    kept: list[str] = []
    with talk(field, folder) as call:
        if field.rng.random() < 0.15:  # while it begins
            time.sleep(field.rng.uniform(0, 0.6))
        elif call.reply(BEGIN_S) is not None:
            until_s = time.monotonic() + field.rng.uniform(0, 0.15)
            while time.monotonic() < until_s and (text := _note(call, len(kept))):
                kept.append(text)
            call.type(b"note one that nobody reads the answer to")
            time.sleep(field.rng.uniform(0, 0.004))
        call.child.send_signal(number)
        call.child.wait(BEGIN_S)
    return kept


def changed_while_open(field: Field) -> None:
    """Whatever happens to the file: what was answered as kept is found again."""
    while field.going:
        folder = field.place / f"changed {field.tried}"
        how = field.rng.choice(["replaced", "moved", "removed", "appended", "folder moved"])
        with talk(field, folder) as call:
            call.reply(BEGIN_S)
            kept = [text for n in range(field.rng.randint(1, 4)) if (text := _note(call, n))]
            before = set(kept)
            _change(folder, how, field.rng)
            after = [text for n in range(5, 8) if (text := _note(call, n))]
            code, told = call.end()
        places = [folder, folder.with_name(f"{folder.name} moved")]
        found: set[str] = set().union(*(_notes_in(each) for each in places if each.exists()))
        wanted = set(after) if how == "removed" else before | set(after)
        why = f"answered and lost {sorted(wanted - found)}" if wanted - found else None
        if "Traceback" in told or code not in {0, 1}:
            why = f"ended with {code}"
        field.check(why, (how, told[-300:]))


def _change(folder: Path, how: str, rng: random.Random) -> None:
    file = folder / "x.jsonl"
    match how:
        case "replaced":
            shutil.copy(file, folder / "copy")
            os.replace(folder / "copy", file)  # noqa: PTH105 - as another program does it
        case "moved":
            file.rename(folder / "x moved.jsonl")
        case "removed":
            file.unlink()
        case "appended":
            with file.open("ab") as other:
                other.write(rng.choice([b"{}\n", b"\n", b"x", rng.randbytes(40)]))
        case _:
            folder.rename(folder.with_name(f"{folder.name} moved"))
