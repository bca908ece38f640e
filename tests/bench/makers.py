"""Simulated makers: hidden true hands that work what is called and lay a coarse tape on it."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, field

from pattern import commands as c
from pattern.commands import Kind, Look
from pattern.decisions import decide, opening
from pattern.gauge import prior
from pattern.lengths import Amount, Unit
from pattern.readings import girth_finished
from pattern.rounds import Stage
from pattern.session import State, fold
from pattern.settings import Settings
from pattern.tables import STITCHES

WIDTH_SPREAD, RATIO_SPREAD = 0.12, 0.07
DRIFT = 0.002
"""Relative random walk of tension a round."""
LOOSER, LOOSER_SPREAD = 0.02, 0.015
"""Straight rounds come out looser than the crown."""
TAPE_MM, QUARTER_INCH = 2.0, 6.35


@dataclass
class Maker:
    """One pair of hands with a head to fit; everything here is hidden from the caller."""

    rng: random.Random
    refuses: bool = False
    head_mm: float = field(init=False)
    width: float = field(init=False)
    height: float = field(init=False)
    ring: float = field(init=False)
    looser: float = field(init=False)

    def __post_init__(self) -> None:
        """Draws the hands."""
        rng, settings = self.rng, Settings(hook_mm=4.5)
        self.head_mm = rng.uniform(450, 600)
        self.width = prior(settings).width_mm * rng.lognormvariate(0, WIDTH_SPREAD)
        ratio = STITCHES[settings.stitch].height_in_widths * rng.lognormvariate(0, RATIO_SPREAD)
        self.height = self.width * ratio
        self.ring = self.width * rng.uniform(0.1, 0.8)
        self.looser = rng.gauss(LOOSER, LOOSER_SPREAD)

    def tape(self, true_mm: float) -> Amount:
        """What the maker says of a length: laid with an error, read to a quarter of an inch."""
        read = true_mm + self.rng.gauss(0, TAPE_MM)
        quarters = max(round(read / QUARTER_INCH), 1)
        step = 0.25 if quarters % 2 else 0.5 if quarters % 4 else 1.0
        return Amount(quarters / 4, step, Unit.INCH)


@dataclass
class Hat:
    """What one call through a whole hat came to."""

    girth_error_mm: float
    depth_error_mm: float
    fullness: float
    covered: bool
    readings: int
    commands: int


def call_through(maker: Maker) -> Hat:
    """Works a whole hat as the session calls it."""
    state = State()
    state = fold(state, opening(state, {"head_mm": maker.head_mm, "yarn": 4, "hook_mm": 4.5,
                                        "unit": "inch"}))  # fmt: skip
    work = _Work(maker)
    readings = commands = 0
    while state.stage is not Stage.FINISHING:
        if state.want is not None or state.doubt is not None:
            command = work.answer(state)
            readings += isinstance(command, c.Measured)
        else:
            command = c.Next()
            work.round(state)
        state = fold(state, decide(state, command))
        commands += 1
    return work.hat(state, readings, commands)


class _Work:
    """The cloth as it really is."""

    def __init__(self, maker: Maker) -> None:
        self.maker, self.width, self.height = maker, maker.width, maker.height
        self.along = maker.ring
        self.sides, self.brim, self.edge, self.depth = False, 0.0, 0.0, 0.0

    def round(self, state: State) -> None:
        """Works the offered round."""
        rng, offered = self.maker.rng, state.offered
        assert offered is not None
        if offered.stage is Stage.SIDES and not self.sides:
            self.sides = True
            self.width *= 1 + self.maker.looser
            self.height *= 1 + self.maker.looser
        drift = rng.gauss(1, DRIFT)
        self.width, self.height = self.width * drift, self.height * drift
        if offered.stage is Stage.BRIM:
            self.edge = self.edge or offered.before * self.width
            self.depth = self.depth or self.along
            self.brim += self.height
        self.along += self.height

    def answer(self, state: State) -> c.Command:
        """What the maker says when asked."""
        if state.doubt is not None:
            return c.Yes()
        want, piece = state.want, state.piece
        if want is None or self.maker.refuses:
            return c.Skip()
        if want.kind is Kind.LOOK:
            return c.Lies(self._look(piece.stitches))
        true = {
            Kind.ACROSS: 2 * self.along,
            Kind.AROUND: piece.stitches * self.width,
            Kind.ALONG: (want.stitches or 1) * self.width,
            Kind.DEPTH: self.along,
            Kind.BRIM: self.brim,
        }[want.kind]
        return c.Measured(self.maker.tape(true), want.kind, want.stitches)

    def _look(self, stitches: int) -> Look:
        full = stitches * self.width / (math.tau * self.along)
        return Look.RIPPLES if full > 1.15 else Look.CUPS if full < 0.85 else Look.FLAT

    def hat(self, state: State, readings: int, commands: int) -> Hat:
        """The finished hat against what was wanted and what was promised."""
        settings, piece = state.settings, state.piece
        slope = math.cos(math.radians(settings.slope_deg))
        flat = self.edge + math.tau * self.brim * slope
        promised = girth_finished(piece)
        return Hat(
            self.edge - settings.girth_mm,
            self.depth - settings.depth,
            piece.stitches * self.width / flat,
            abs(self.edge - promised.mean) <= 1.96 * promised.sd,
            readings,
            commands,
        )
