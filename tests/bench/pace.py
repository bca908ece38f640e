"""Is the time right that is told when the crown is done? Simulated makers by a simulated clock."""

from __future__ import annotations

import argparse
import random
import statistics
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from pattern.forecast.pace import pace_of, time_left
from pattern.journal.lines import Turn
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.shape.rounds import Stage
from tests.bench.calling import Work
from tests.bench.makers import Maker
from tests.openings import opening

WITHIN, MAKERS = 0.15, 0.80
"""Figures to reach: so near for such a share of makers; our choice."""
PACE = (8.0, 25.0)
"""Stitches a minute when the hat begins; each maker has one, evenly."""
QUICKER = (0.0, 0.25)
"""By how much a maker is quicker at the end of a hat than at its start, evenly."""
INCREASING = 0.92
"""Pace in a round with increases, over that of a plain one."""
ROUND_SPREAD = 0.12
LINGERS, LINGER_MIN = 0.10, (2.0, 12.0)
"""Rounds in which the work lies still without a word, and for how long."""
PAUSES, PAUSE_MIN = 0.05, (2.0, 90.0)
"""Rounds in which a pause is said."""
BREAKS, BREAK_MIN = 0.05, (30.0, 2000.0)
"""Rounds in which the work is put away without a word."""
TAPE_MIN = (0.5, 2.0)
"""Minutes that a reading takes; they are work."""
ROUNDS_A_HAT = 35
START = datetime(2026, 3, 1, 18, 0, tzinfo=UTC)


class Clock:
    """A session with its times, as a journal keeps them."""

    def __init__(self, maker: Maker) -> None:
        answers = {"head_mm": maker.head_mm, "yarn": maker.yarn, "hook_mm": maker.hook_mm}
        self.at, self.worked_min = START, 0.0
        self.state, self.turns = State(), list[Turn[e.Event]]()
        self._keep(opening(State(), answers))

    def _keep(self, events: tuple[e.Event, ...]) -> None:
        self.state = fold(self.state, events)
        self.turns.append(Turn(events, self.at.strftime("%Y-%m-%dT%H:%M:%S.%fZ")))

    def say(self, command: c.Command) -> None:
        """What the maker says now."""
        self._keep(decide(self.state, command))

    def idle(self, minutes: float) -> None:
        """Time goes by."""
        self.at += timedelta(minutes=minutes)

    def work(self, minutes: float) -> None:
        """Time goes by in work."""
        self.idle(minutes)
        self.worked_min += minutes


@dataclass
class Asked:
    """What was told when the crown was done, and what it took."""

    told_min: float
    spread_min: float
    took_min: float

    @property
    def off(self) -> float:
        """Relative error."""
        return self.told_min / self.took_min - 1


def call_through(maker: Maker) -> Asked | None:
    """Works a whole hat; None where nothing was told."""
    clock, cloth, rng = Clock(maker), Work(maker), maker.rng
    per_min, quicker = rng.uniform(*PACE), rng.uniform(*QUICKER)
    told: tuple[float, float, float] | None = None
    while clock.state.stage is not Stage.FINISHING or clock.state.want is not None:
        state = clock.state
        if state.want is not None or state.doubt is not None:
            clock.work(rng.uniform(*TAPE_MIN))
            clock.say(cloth.answer(state))
            cloth.rip(clock.turns[-1].events)
            continue
        offered = state.offered
        assert offered is not None
        if offered.stage is Stage.SIDES and told is None:
            pace = pace_of(clock.turns)
            if pace is None:
                return None
            left = time_left(state, pace)
            told = left.mean, left.sd, clock.worked_min
        pace_now = per_min * (1 + quicker * offered.number / ROUNDS_A_HAT)
        pace_now *= rng.lognormvariate(0, ROUND_SPREAD) * (INCREASING if offered.places else 1)
        minutes = offered.after / pace_now
        clock.work(minutes / 2)
        _interrupted(clock, rng)
        clock.work(minutes / 2)
        cloth.round(state)
        clock.say(c.Next())
    if told is None:
        return None
    return Asked(told[0], told[1], clock.worked_min - told[2])


def _interrupted(clock: Clock, rng: random.Random) -> None:
    chance = rng.random()
    if chance < LINGERS:
        clock.idle(rng.uniform(*LINGER_MIN))
    elif chance < LINGERS + PAUSES:
        clock.say(c.Pause())
        clock.idle(rng.uniform(*PAUSE_MIN))
        clock.say(c.Resume())
    elif chance < LINGERS + PAUSES + BREAKS:
        clock.idle(rng.uniform(*BREAK_MIN))


def run(argv: list[str]) -> int:
    """Prints the figures; returns 1 when one to reach is missed."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench pace")
    parser.add_argument("--makers", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args(argv)
    makers = [Maker(random.Random(f"{options.seed} pace {i}")) for i in range(options.makers)]
    asked = [call_through(maker) for maker in makers]
    told = [one for one in asked if one is not None]
    sizes = sorted(abs(one.off) for one in told)
    near = sum(size <= WITHIN for size in sizes) / len(sizes)
    covered = sum(abs(one.told_min - one.took_min) <= 1.645 * one.spread_min for one in told)
    print(
        f"{options.makers} makers, seed {options.seed}, asked where the sides begin; "
        f"{len(asked) - len(told)} not told"
    )
    print(
        f"work that was left: median {statistics.median(one.took_min for one in told):.0f} min; "
        f"error: median {statistics.median(one.off for one in told):+.1%}, "
        f"size median {statistics.median(sizes):.1%}, p80 {sizes[int(0.8 * len(sizes))]:.1%}"
    )
    print(f"90 % interval covers {covered / len(told):.1%}")
    verdict = "reached" if near >= MAKERS else "MISSED"
    print(f"within 15 %, at least 80 % of makers{near:10.1%}  {verdict}")
    return 0 if near >= MAKERS else 1
