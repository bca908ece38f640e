"""What golden journals and conversations mean to the program of today."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from pattern.journal.journal import Journal
from pattern.journal.lines import read_lines
from pattern.session.history import CODEC, state_after
from pattern.shape.catalogue import SHAPES
from pattern.shape.rounds import Stage
from voice.caller.caller import Caller
from voice.caller.json_reply import as_data
from voice.caller.reply import Reply

FOLDER = Path(__file__).parent
MEANT = FOLDER / "meant.json"
CONVERSATION = FOLDER / "conversation.txt"


def journals() -> list[Path]:
    """Every golden journal."""
    return sorted(FOLDER.glob("*.jsonl"))


def meaning(path: Path) -> dict[str, object]:
    """What a journal tells: its number of turns, and the state in which it ends."""
    turns = read_lines(path, path.read_bytes(), CODEC).turns
    state = state_after(turns)
    made = [[made.round.stage, made.round.before, made.round.after] for made in state.rounds_made()]
    return {"turns": len(turns), **as_data(Reply("", state)), "rounds_made": made}


@contextmanager
def caller_in(folder: Path) -> Iterator[Caller]:
    """A caller whose clock ticks a minute a turn."""
    ticks = (datetime(2026, 3, 1, 18, tzinfo=UTC) + timedelta(minutes=n) for n in range(10**6))
    with Journal.open(folder, "hat", CODEC) as journal:
        yield Caller(journal, clock=lambda: next(ticks))


def replies(lines: list[str]) -> Iterator[str]:
    """What is said to typed lines, the opening first."""
    with TemporaryDirectory() as folder, caller_in(Path(folder)) as caller:
        yield caller.open().say
        yield from (caller.hear(line).say for line in lines)


def conversation(lines: list[str]) -> str:
    """Lines and replies, as they are kept."""
    opening, *said = replies(lines)
    turns = (f"> {line}\n{reply}\n" for line, reply in zip(lines, said, strict=True))
    return f"{opening}\n{''.join(turns)}"


def lines_of(kept: str) -> list[str]:
    """The lines that were typed in a kept conversation."""
    return [line[2:] for line in kept.splitlines() if line.startswith("> ")]


def whole_piece(shape: str, folder: Path) -> Path:
    """The journal of a piece of that shape, worked to its end with next alone."""
    with caller_in(folder) as caller:
        caller.open()
        caller.hear(f"make a {shape}")
        while caller.state.stage is not Stage.DONE:
            state = caller.state
            caller.hear("yes" if state.doubt else "skip" if state.question else "next")
    return folder / "hat.jsonl"


def shapes() -> list[str]:
    """Names of the built-in shapes."""
    return [shape.name for shape in SHAPES]


def as_text(meanings: dict[str, dict[str, object]]) -> str:
    """Meanings as they are kept: a line each."""
    rows = (f"{json.dumps(name)}: {json.dumps(value)}" for name, value in meanings.items())
    return "{\n" + ",\n".join(rows) + "\n}\n"
