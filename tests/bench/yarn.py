"""Does the yarn that is told cover what a hat really takes, at its start and after a weighing?

The yarn in a stitch is that of a loop with legs, head and crossings, by stitch width and height and
the thickness of the yarn; nothing of it comes from `pattern`.
"""

from __future__ import annotations

import argparse
import random
import statistics
from dataclasses import dataclass

from pattern.forecast.yarn_left import left
from pattern.gauge.yarn_use import Need
from pattern.session import commands as c
from pattern.session.decide_yarn import use_of
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from tests.bench.calling import Work
from tests.bench.makers import Maker
from tests.openings import opening

COVERED = (0.85, 0.95)
NORMAL_90 = 1.645
"""Standard deviations on either side that hold 90 % of a normal law."""
HALF = 0.5
"""What a weighing where the sides begin leaves of the interval for the whole hat, at the most."""
LEGS_W, LEGS_H, CROSSINGS = 2.5, 3.2, 9.0
"""Widths, heights and thicknesses of yarn in a single crochet, our drawing of the loop; at class 4
they come to about nine widths, as one data set does (common practice)."""
HABIT = 0.1
"""How makers' loops differ in length, relative."""
WRAPS_PER_INCH = {3: (11.0, 15.0), 4: (9.0, 12.0), 5: (6.0, 9.0)}
"""Thickness of a yarn class (a copy of the trade's figures); evenly."""
METRES_PER_100G = {3: (180.0, 270.0), 4: (110.0, 220.0), 5: (90.0, 140.0)}
"""Wider than the usual figures of the class, as shops have it; evenly."""
BAND_SPREAD, BANDS = 0.03, 0.5
"""How a ball differs from its band, relative; and the share of makers who tell the band."""
SCALES_G = 0.7
"""What the scales show differs by this, one standard deviation, besides whole grams."""
STASH_G = 600.0
ENDS_MM = 400.0
"""Yarn left hanging at both ends."""


@dataclass
class Told:
    """What was told of the grams still needed, and what was really needed."""

    need: Need
    true_g: float

    @property
    def covers(self) -> bool:
        """Whether the 90 % interval holds the truth."""
        return abs(self.need.grams.mean - self.true_g) <= NORMAL_90 * self.need.grams.sd

    @property
    def width(self) -> float:
        """The interval over its mean."""
        return 2 * NORMAL_90 * self.need.grams.sd / self.need.grams.mean


@dataclass
class Hat:
    """One hat: at its start, and where the sides begin just before and after weighing."""

    banded: bool
    start: Told
    before: Told
    after: Told


class Yarn:
    """The yarn in a maker's hands, and how much of it one stitch takes."""

    def __init__(self, maker: Maker) -> None:
        rng = maker.rng
        self.habit = rng.lognormvariate(0, HABIT)
        self.thick_mm = 25.4 / rng.uniform(*WRAPS_PER_INCH[maker.yarn])
        self.metres_per_g = rng.uniform(*METRES_PER_100G[maker.yarn]) / 100
        self.band_m = 50 * self.metres_per_g * rng.gauss(1, BAND_SPREAD)
        self.banded = rng.random() < BANDS

    def grams(self, stitches: int, width_mm: float, height_mm: float) -> float:
        """The yarn in so many stitches."""
        loop = LEGS_W * width_mm + LEGS_H * height_mm + CROSSINGS * self.thick_mm
        return stitches * loop * self.habit / 1000 / self.metres_per_g


def call_through(maker: Maker) -> Hat:
    """Works a whole hat, weighed where its sides begin."""
    yarn, work, rng = Yarn(maker), Work(maker), maker.rng
    answers = {"head_mm": maker.head_mm, "yarn": maker.yarn, "hook_mm": maker.hook_mm}
    if yarn.banded:
        answers |= {"ball_g": 50.0, "ball_m": yarn.band_m}
    state = fold(State(), opening(State(), answers))
    state = _after(state, c.Change("stash_g", Amount(STASH_G, 1.0, Unit.GRAM)))
    told = {"start": (left(state, use_of(state)), 0.0)}
    used = ENDS_MM / 2 / 1000 / yarn.metres_per_g
    rounds_g: list[float] = []
    while state.stage is not Stage.FINISHING or state.want is not None:
        if state.want is not None or state.doubt is not None:
            turn = decide(state, work.answer(state))
            used -= sum(rounds_g.pop() for _ in range(work.rip(turn)))  # yarn for other rounds
            state = fold(state, turn)
            continue
        offered = state.offered
        assert offered is not None
        if offered.stage is Stage.SIDES and "after" not in told:
            told["before"] = left(state, use_of(state)), used
            shown = round(STASH_G - used + rng.gauss(0, SCALES_G))
            state = _after(state, c.Weighed(Amount(shown, 1.0, Unit.GRAM)))
            told["after"] = left(state, use_of(state)), used
        work.round(state)
        rounds_g.append(yarn.grams(offered.after, work.width, work.height))
        used += rounds_g[-1]
        state = _after(state, c.Next())
    used += ENDS_MM / 2 / 1000 / yarn.metres_per_g
    return Hat(
        yarn.banded, **{name: Told(need, used - by_then) for name, (need, by_then) in told.items()}
    )


def _after(state: State, command: c.Command) -> State:
    return fold(state, decide(state, command))


def _row(name: str, hats: list[Hat]) -> None:
    print(f"{name:22}{len(hats):6d}", end="")
    for what in ("start", "before", "after"):
        told = [getattr(hat, what) for hat in hats]
        covers = sum(one.covers for one in told) / len(told)
        off = statistics.median(one.need.grams.mean / one.true_g - 1 for one in told)
        print(
            f"{covers:11.1%}{statistics.median(one.width for one in told):8.2f}{off:+8.1%}", end=""
        )
    print()


def run(argv: list[str]) -> int:
    """Prints the table; returns 1 when a figure to reach is missed."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench yarn")
    parser.add_argument("--makers", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args(argv)
    makers = [Maker(random.Random(f"{options.seed} yarn {i}")) for i in range(options.makers)]
    yarns = [maker.yarn for maker in makers]
    hats = [call_through(maker) for maker in makers]
    print(
        f"{options.makers} makers, seed {options.seed}; grams for the rounds left: 90 % interval "
        "covers, its width over the mean, median error"
    )
    print(f"{'':28}{'at the start':>27}{'sides begin':>27}{'and weighed':>27}")
    _row("all", hats)
    _row("  band known", [hat for hat in hats if hat.banded])
    _row("  class only", [hat for hat in hats if not hat.banded])
    for yarn in sorted(set(yarns)):
        _row(f"  class {yarn}", [h for h, one in zip(hats, yarns, strict=True) if one == yarn])
    covered = sum(hat.start.covers for hat in hats) / len(hats)
    after = sum(hat.after.covers for hat in hats) / len(hats)
    narrower = statistics.median(hat.after.need.grams.sd / hat.start.need.grams.sd for hat in hats)
    checks = (
        ("start covered, 85 to 95 %", f"{covered:.1%}", COVERED[0] <= covered <= COVERED[1]),
        ("after weighing covered, at least 85 %", f"{after:.1%}", after >= COVERED[0]),
        ("whole hat: width after over that at start, half", f"{narrower:.2f}", narrower <= HALF),
    )
    for what, figure, reached in checks:
        print(f"{what:50}{figure:>9}  {'reached' if reached else 'MISSED'}")
    return 0 if all(reached for _, _, reached in checks) else 1
