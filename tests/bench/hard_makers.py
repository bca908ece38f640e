"""Makers in trouble: slips in the count, a break, another hook, a tape misread; and their cloth.

Every number is the simulator's own choice, made once and not for a nicer table; none is imported
from `pattern`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.commands import Kind
from pattern.session.state import Doubt, State
from pattern.shape.rounds import Round, Stage
from pattern.trade.lengths import Amount, Unit
from tests.bench.calling import Work
from tests.bench.makers import HOOK_POWER, Maker

SLIP = 1 / 200
"""Stitches worked wrong: one too many or one left out, as often as each other."""
COUNTS = (0.0, 0.6)
"""Share of rounds whose stitches a maker counts unasked; each maker has one, evenly."""
NOTICES = 0.5
"""Share of rounds of increases that do not come out at the marker, and are counted for that."""
WRONG_READING = 0.1
"""Readings misread; one that is asked about is read again, and then right."""
BREAK_CHANGE = 0.03
"""Relative change of tension over the break, one standard deviation."""
BREAK_DAYS = (0.3, 14.0)
SEEN_CHANGE, TELLS = 0.02, 0.5
"""A change of tension of two in a hundred can be seen, and half of those who see it say so."""
HOOKS, HOOK_TOLD = 1 / 3, 0.75
"""Share of makers who go on with another hook, and of those the share who say so."""
MIDDLE = (0.3, 0.7)
"""Where the break comes, and the other hook: share of the depth, evenly."""
BAND_MM = 20.0
"""Height of the band that sits at the head."""
MISREAD_IN = (1.0, -1.0, 0.5, -0.5, 0.25, -0.25)
MISREAD_MM = (50.0, -50.0, 10.0, -10.0, 5.0, -5.0)
"""A tape misread: the wrong inch or fraction; the wrong numeral, centimetre or half of one."""


@dataclass
class Troubled(Maker):
    """A pair of hands to which all of it happens."""

    counts: float = field(init=False)
    break_at: float = field(init=False)
    break_days: float = field(init=False)
    change: float = field(init=False)
    tells: bool = field(init=False)
    """Whether the change of tension is said."""
    hook_at: float = field(init=False)
    other_hook_mm: float | None = field(init=False)
    hook_told: bool = field(init=False)
    hook_power: float = field(init=False)

    def __post_init__(self) -> None:
        """Draws the hands and what befalls them."""
        super().__post_init__()
        rng = self.rng
        self.counts = rng.uniform(*COUNTS)
        self.break_at, self.hook_at = rng.uniform(*MIDDLE), rng.uniform(*MIDDLE)
        self.break_days, self.change = rng.uniform(*BREAK_DAYS), rng.gauss(0, BREAK_CHANGE)
        self.tells = abs(self.change) >= SEEN_CHANGE and rng.random() < TELLS
        other_mm = self.hook_mm + rng.choice((-0.5, 0.5))
        self.other_hook_mm = other_mm if rng.random() < HOOKS else None
        self.hook_told = rng.random() < HOOK_TOLD
        self.hook_power = rng.uniform(*HOOK_POWER)

    def misread(self, true_mm: float) -> Amount:
        """What is said of a length at first: right, or one time in ten misread."""
        right = self.read(true_mm)
        if self.rng.random() >= WRONG_READING:
            return right
        inches = right.unit is Unit.INCH
        value = right.value + self.rng.choice(MISREAD_IN if inches else MISREAD_MM)
        if value <= 0:
            return right
        parts = round(value * 8)
        return Amount(value, math.gcd(parts, 8) / 8 if inches else right.step, right.unit)


class TroubledWork(Work):
    """The cloth as it really is, with slips; the session knows only what it is told."""

    def __init__(self, maker: Troubled) -> None:
        super().__init__(maker)
        self.hands = maker
        self.slips = 0
        self._sides: list[tuple[float, float]] = []
        self.broke = self.hooked = False
        self._came_out = True

    def slip(self, offered: Round) -> int:
        """Stitches too many, or missing, in a round worked on the stitches that are there."""
        rng = self.hands.rng
        self._came_out = not offered.sets or self.stitches == offered.before
        wrong = [rng.choice((-1, 1)) for _ in range(offered.after) if rng.random() < SLIP]
        self.slips += len(wrong)
        return sum(wrong)

    def round(self, state: State) -> None:
        """Works the offered round."""
        super().round(state)
        if state.offered is not None and state.offered.stage is Stage.SIDES:
            self._sides.append((self.stitches * self.width, self.height))

    def rip(self, turn: Sequence[e.Event]) -> int:
        """Takes the rounds out of the sides, too: it is only they that are worked anew."""
        rounds = super().rip(turn)
        del self._sides[len(self._sides) - rounds :]
        return rounds

    def fit_line_mm(self) -> float:
        """Mean girth of the lowest rounds of the sides, where the hat sits: cloth gives, and no
        head feels one stitch of one round."""
        girths, high = [], 0.0
        for girth, height in reversed(self._sides):
            girths.append(girth)
            high += height
            if high >= BAND_MM:
                break
        return sum(girths) / len(girths)

    def counted(self, state: State, asked: bool) -> c.Command | None:
        """What is said after a round: a count that was asked for, or that is not as called."""
        if asked:
            return c.Counted(self.stitches)
        rng, counts = self.hands.rng, False
        if rng.random() < (NOTICES if not self._came_out else 0.0):
            counts = True
        if rng.random() < self.hands.counts:
            counts = True
        wrong = self.stitches != state.piece.stitches
        return c.Counted(self.stitches) if counts and wrong else None

    def happens(self, depth_mm: float) -> tuple[float, c.Command | None]:
        """A break or another hook that is due: the days away, and what the maker says of it."""
        maker, done = self.hands, self.along / depth_mm
        if not self.broke and done >= maker.break_at:
            self.broke = True
            self._change(1 + maker.change)
            return maker.break_days, c.Tension() if maker.tells else None
        if not self.hooked and done >= maker.hook_at and maker.other_hook_mm is not None:
            self.hooked = True
            self._change((maker.other_hook_mm / maker.hook_mm) ** maker.hook_power)
            said = c.Change("hook_mm", Amount(maker.other_hook_mm, 0.1))
            return 0.0, said if maker.hook_told else None
        return 0.0, None

    def _change(self, times: float) -> None:
        self.width, self.height = self.width * times, self.height * times

    def answer(self, state: State) -> c.Command:
        """What the maker says when asked; what is doubted is looked at again first."""
        if state.doubt is not None:
            return self._looked_again(state.doubt)
        want = state.want
        if want is None or want.kind is Kind.LOOK:
            return super().answer(state)
        true_mm = self.true_mm(want.kind, self.stitches, want.stitches)
        return c.Measured(self.hands.misread(true_mm), want.kind, want.stitches)

    def _looked_again(self, doubt: Doubt) -> c.Command:
        if (reading := doubt.reading) is not None:
            again = self.hands.read(self.true_mm(reading.kind, self.stitches, reading.stitches))
            apart = abs(again.mm(Unit.MM) - reading.value_mm)
            return c.Yes() if apart <= reading.step_mm else c.No(again)
        right = doubt.count == self.stitches
        return c.Yes() if right else c.No(Amount(self.stitches))
