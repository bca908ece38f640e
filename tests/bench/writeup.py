"""How long the write-up of a long piece takes as a page, and how large it is."""

from __future__ import annotations

import argparse
import statistics
import time

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.writeup.html import as_html
from pattern.writeup.plain_text import as_text
from pattern.writeup.writeup import as_made
from tests.bench.long_piece import WIDEST
from tests.pieces import begun, told

ROUNDS, PAGE_MS, PAGE_KB = 200, 300.0, 400.0
"""The piece, and the figures to reach; our choice: no wait to speak of, and light to send."""


def long_piece(rounds: int = ROUNDS) -> State:
    """A piece of fine yarn after so many rounds, or whole where it has fewer."""
    state = begun(**WIDEST)
    while state.piece.finished < rounds and state.stage is not Stage.FINISHING:
        state = told(state, c.Skip() if state.want is not None else c.Next())
    return state


def run(argv: list[str]) -> int:
    """Prints ms and kB; returns 1 when a figure to reach is missed."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench writeup")
    parser.add_argument("--times", type=int, default=9)
    times = parser.parse_args(argv).times
    state = long_piece()
    print(f"piece of {state.piece.finished} rounds made; median of {times}")
    reached = True
    for what in ("text", "html"):
        taken_ms = []
        for _ in range(times):
            start = time.perf_counter()
            document = as_made(state, "Long hat")
            page = as_html(document) if what == "html" else as_text(document)
            taken_ms.append(1e3 * (time.perf_counter() - start))
        median, size = statistics.median(taken_ms), len(page.encode()) / 1e3
        missed = "" if median <= PAGE_MS and size <= PAGE_KB else "  MISSED"
        reached = reached and not missed
        print(f"  {what:6}{median:8.1f} ms{size:8.1f} kB{missed}")
    return 0 if reached else 1
