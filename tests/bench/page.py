"""How much later a reply is spoken with a page beside the call, and with many readers of it.

The server, its sockets and the process that speaks are the real ones, the readers a process of
their own; nothing is played. Each reply is given once in each row, the rows in an order of their
own: whatever else the machine does falls on all alike, and what it does to no page at all stands in
a row too. Just before it another reply was given, so that the page of that is drawn meanwhile.
"""

from __future__ import annotations

import argparse
import random
import statistics
import time
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import dataclass
from itertools import islice

from pattern.session.state import State
from tests.bench.page_rows import Row, reply_to, rows_of, states
from tests.bench.speaking_cost import Spoken

LATER_MS = 5.0
"""To reach: a page may make a reply so much later, by the median and by the 95th percentile of the
differences from no page. Where the second row without a page is later than that too, the machine
is too busy to tell."""
_SETTLED_S = 0.25
"""After it the page of a reply is drawn, and its readers have it."""
MOMENTS = {"at any moment": (0.0, 0.4), "while the page before is drawn": (0.14, 0.2)}
"""How long after another reply it is given, from and to, in seconds."""


@dataclass(frozen=True, slots=True)
class Trial:
    """How replies are given for one table."""

    moment: str
    ahead: bool
    """Whether they were rendered ahead, as a round usually is."""
    times: int
    rng: random.Random
    states: Iterator[State]

    @property
    def title(self) -> str:
        """Words for it."""
        return f"{'rendered ahead' if self.ahead else 'rendered now'}, {self.moment}"

    def took_ms(self, rows: list[Row]) -> dict[str, list[tuple[float, float]]]:
        """Times of every reply in each of the rows."""
        found: dict[str, list[tuple[float, float]]] = {row.name: [] for row in rows}
        for state in islice(self.states, self.times):
            gap_s = self.rng.uniform(*MOMENTS[self.moment])
            for row in self.rng.sample(rows, len(rows)):
                if self.ahead:
                    row.renderer.render(reply_to(state)[0])
                row.show("The reply before.", state)
                time.sleep(gap_s)
                found[row.name].append(row.speaking_after_ms(state))
                time.sleep(_SETTLED_S)
        return found


@dataclass(frozen=True, slots=True)
class Figures:
    """Times of one row."""

    decided_ms: list[float]
    """From a reply decided until its speaking begins."""
    later_ms: list[float]
    """Differences of these from no page, reply by reply."""
    in_all_ms: list[float]
    """The same from the command on, with what it took to decide."""

    def __str__(self) -> str:
        """Median and 95th percentile of each."""
        all_of = (self.decided_ms, self.later_ms, self.in_all_ms)
        return "".join(f"{statistics.median(one):9.2f}{_p95(one):9.2f}" for one in all_of)


def _p95(values: list[float]) -> float:
    return sorted(values)[int(0.95 * len(values))]


def _later_ms(trial: Trial, rows: list[Row]) -> dict[str, Figures]:
    """Figures of every row, the first of which is no page."""
    took = trial.took_ms(rows)
    none = took[rows[0].name]
    return {
        name: Figures(
            [decided for _, decided in found],
            [one - other for (_, one), (_, other) in zip(found, none, strict=True)],
            [one - other for (one, _), (other, _) in zip(found, none, strict=True)],
        )
        for name, found in took.items()
    }


def _table(trial: Trial, rows: list[Row]) -> bool:
    """Print the figures of one trial; whether those to reach are, as far as can be told."""
    found = _later_ms(trial, rows)
    noise = found[rows[1].name].later_ms
    clear = [of for of in (statistics.median, _p95) if of(noise) <= LATER_MS]
    print(f"{trial.title}, {trial.times} replies a row")
    columns = ("median", "p95", "later", "p95", "in all", "p95")
    print(f"  {'decided to speaking, ms':28}" + "".join(f"{one:>9}" for one in columns))
    reached = True
    for row in rows:
        figures = found[row.name]
        missed = row.page is not None and any(of(figures.later_ms) > LATER_MS for of in clear)
        reached = reached and not missed
        print(f"  {row.name:28}{figures}{'  MISSED' if missed else ''}", flush=True)
    if len(clear) < 2:
        which = "the 95th percentile" if clear else "these figures"
        print(f"  The machine is too busy to tell anything by {which}.")
    return reached


def run(argv: list[str]) -> int:
    """Print the tables; 1 when a figure to reach is missed."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench page", description=__doc__)
    parser.add_argument("--times", type=int, default=60, help="replies in each row")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--espeak", action="store_true", help="speak with eSpeak, which costs less")
    options = parser.parse_args(argv)
    rng, going_on = random.Random(options.seed), states()
    with ExitStack() as opened:
        rows = rows_of(opened, Spoken("usual", None, system_only=options.espeak))
        reached = [
            _table(Trial(moment, ahead, options.times, rng, going_on), rows)
            for ahead in (True, False)
            for moment in MOMENTS
        ]
    for row in rows[2:]:
        shown = [1e3 * one for one in row.shown_s]
        print(
            f"{row.name}: showing took {statistics.median(shown):.3f} ms, p95 {_p95(shown):.3f};"
            f" shown {len(shown)} times"
            + (f", given at least {min(row.given)} times to each" if row.given else "")
        )
    return 0 if all(reached) else 1
