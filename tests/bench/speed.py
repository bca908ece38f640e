"""How long one command takes, reading a long journal back, and starting up; and how each grows."""

from __future__ import annotations

import argparse
import json
import math
import statistics
import subprocess
import sys
import tempfile
import time
from bisect import bisect_left
from functools import partial
from itertools import accumulate, islice
from pathlib import Path
from typing import Any

from pattern.journal.journal import Journal
from pattern.journal.kept import piece_path
from pattern.session.events import YarnWeighed
from pattern.session.folding import fold
from pattern.session.history import CODEC, state_after
from tests.any_call import begun
from tests.bench.long_piece import Session, finer
from voice.sentences import yarn

COMMAND_P99_S, REPLAY_S, HELP_S, YARN_S = 0.025, 1.0, 0.3, 0.1
"""Figures to reach; our choice: a pause that nobody notices before a reply that takes seconds to
say, and a start that does not feel like one; a question about the yarn goes through all rounds
left, and may take a tenth of a second."""
ROUNDS = (10, 100, 1000)
TURNS = (1000, 3000, 10_000)
EVENTS = (1000, 10_000)
FINEST = {"yarn": 0, "hook_mm": 1.0, "start": 4}
LARGEST: dict[str, dict[str, Any]] = {
    "hat of many rounds": {
        "head_mm": 720.0,
        "depth_mm": 450.0,
        "brim_mm": 250.0,
        "slope_deg": 0.0,
        "fullness": 2.0,
        **FINEST,
    },
    "bucket hat": {
        "shape": "bucket hat",
        "head_mm": 720.0,
        "depth_mm": 450.0,
        "brim_mm": 250.0,
        "slope_deg": 0.0,
        "fullness": 2.0,
        **FINEST,
    },
    "bowl of two metres": {"shape": "bowl", "across_mm": 2000.0, "height_mm": 1000.0, **FINEST},
    "ball of two metres": {"shape": "ball", "across_mm": 2000.0, **FINEST},
}
"""The largest pieces that may be asked for, in the finest stitches."""
HAVE_G = 20.0


def _p99(seconds: list[float]) -> float:
    return sorted(seconds)[math.ceil(0.99 * len(seconds)) - 1]


class Table:
    """Rows of figures, the growth of each over the first, and what was missed."""

    def __init__(self, title: str, most_s: float) -> None:
        """Prints the head; `most_s` is the figure to reach by the p99 of every row."""
        print(f"{title:38}{'median ms':>11}{'p99 ms':>9}{'growth':>9}")
        self.most_s, self.reached = most_s, True
        self._first: dict[str, float] = {}

    def row(self, what: str, seconds: list[float], series: str = "") -> None:
        """Prints one row; growth is over the first row of its series."""
        median, p99 = statistics.median(seconds), _p99(seconds)
        growth = median / self._first.setdefault(series, median)
        missed = "" if p99 <= self.most_s else "  MISSED"
        self.reached = self.reached and not missed
        print(f"  {what:36}{1e3 * median:11.2f}{1e3 * p99:9.2f}{growth:9.2f}{missed}")

    def rows(self, what: str, session: Session, seconds: list[float]) -> None:
        """Prints one row of the last commands of a session, and one without the disk."""
        self.row(what, seconds)
        self.row("  without the disk", session.planning_s[-len(seconds) :], "without")


def commands_by_rounds(folder: Path, count: int) -> bool:
    """One command on pieces of more and more rounds."""
    table = Table(f"one command, {count} timed in each row", COMMAND_P99_S)
    for rounds in ROUNDS:
        session = Session(folder, f"{rounds} rounds")
        finer(session)
        session.to_round(rounds)
        seconds = [session.do(command) for command in islice(session.around(), count)]
        table.rows(f"piece of {rounds} rounds", session, seconds)
        session.journal.close()
    return table.reached


def commands_by_turns(folder: Path, name: str, count: int) -> bool:
    """One command with a longer and longer journal; the piece stays one of 100 rounds."""
    table = Table(f"one command, the last {count} before", COMMAND_P99_S)
    session = Session(folder, name)
    finer(session)
    session.to_round(100)
    commands = session.around()
    for turns in TURNS:
        seconds: list[float] = []
        while len(session.journal.turns) < turns:
            seconds.append(session.do(next(commands)))
        table.rows(f"journal of {turns} turns", session, seconds[-count:])
    session.journal.close()
    return table.reached


def replay(folder: Path, name: str, times: int = 5) -> bool:
    """Reading the long journal back, as far as so many events, and adding it up."""
    table = Table("reading a journal back", REPLAY_S)
    lines = piece_path(folder, name).read_bytes().splitlines(keepends=True)
    for events in EVENTS:
        short = f"{events} events"
        kept, turns = beginning(lines, events)
        piece_path(folder, short).write_bytes(kept)
        seconds = []
        for _ in range(times):
            start = time.perf_counter()
            with Journal.open(folder, short, CODEC, create=False) as journal:
                state_after(journal.turns)
            seconds.append(time.perf_counter() - start)
        table.row(f"{short} in {turns} turns", seconds)
    return table.reached


def beginning(lines: list[bytes], events: int) -> tuple[bytes, int]:
    """The first lines that hold so many events (or one or two more), and how many lines."""
    held = list(accumulate(len(json.loads(line)["events"]) for line in lines))
    turns = bisect_left(held, events) + 1
    return b"".join(lines[:turns]), turns


def yarn_asked(times: int = 7) -> bool:
    """How much yarn the rounds left need, and whether what there is lasts."""
    table = Table("asking about the yarn", YARN_S)
    for what, answers in LARGEST.items():
        state = begun(answers)
        some = fold(state, (YarnWeighed(HAVE_G, 0, fresh=True),))
        for asked, answer in (
            ("how much", partial(yarn.needed, state)),
            ("is it enough", partial(yarn.enough, some)),
        ):
            seconds = []
            for _ in range(times):
                start = time.perf_counter()
                answer()
                seconds.append(time.perf_counter() - start)
            table.row(f"{what}, {asked}", seconds, what)
    return table.reached


def help_shown(times: int = 7) -> bool:
    """Starting the program for its help."""
    table = Table("starting", HELP_S)
    seconds = []
    for _ in range(times):
        start = time.perf_counter()
        subprocess.run([sys.executable, "-m", "voice", "--help"], check=True, capture_output=True)
        seconds.append(time.perf_counter() - start)
    table.row("python -m voice --help", seconds)
    return table.reached


def run(argv: list[str]) -> int:
    """Prints the tables; returns 1 when a figure to reach is missed."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench speed")
    parser.add_argument("--commands", type=int, default=600, help="timed in each row; at most 800")
    parser.add_argument("--folder", type=Path, help="a folder on the disk that is to be measured")
    options = parser.parse_args(argv)
    print(
        f"to reach: a command within {1e3 * COMMAND_P99_S:.0f} ms (p99, written and synced), "
        f"reading back within {REPLAY_S:g} s, help within {HELP_S:g} s, an answer about the "
        f"yarn within {1e3 * YARN_S:.0f} ms"
    )
    with tempfile.TemporaryDirectory(dir=options.folder) as made:
        folder = Path(made)
        reached = [
            commands_by_rounds(folder, options.commands),
            commands_by_turns(folder, "long", options.commands),
            replay(folder, "long"),
            yarn_asked(),
            help_shown(),
        ]
    return 0 if all(reached) else 1
