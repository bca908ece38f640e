"""A whole hat of a simulated maker, called round by round, and what it came to."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from pattern.plan.readings import girth_finished
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.commands import Kind, Look
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.shape.rounds import Round, Stage
from tests.bench.makers import Maker
from tests.openings import opening

RIPPLES_OVER, CUPS_UNDER = 1.15, 0.85
"""Fullness at which a maker says so; the simulator's choice."""


@dataclass
class Hat:
    """What one call through a whole hat came to."""

    maker: Maker
    girth_error_mm: float
    depth_error_mm: float
    fullness: float
    """Girth of the brim's edge over the girth that lies flat at its slope."""
    covered: bool
    """Whether the girth lies in the 95 % interval that was stated for it."""
    asked: Asked


@dataclass
class Asked:
    """How much a maker was asked for, and did."""

    readings: int = 0
    easy: int = 0
    """Readings of those whose tape lies by itself: across a flat crown, or around sides."""
    looks: int = 0
    """Times that the maker was asked how it lies."""
    counts: int = 0
    """Counts that were asked for."""

    def note(self, state: State, command: c.Command) -> None:
        """One more command, said in this state."""
        self.readings += isinstance(command, c.Measured)
        self.easy += isinstance(command, c.Measured) and _easy(state, command)
        self.looks += isinstance(command, c.Lies)


def _easy(state: State, measured: c.Measured) -> bool:
    kind, lies = measured.kind, state.piece.shaping
    return (kind in {Kind.ACROSS, Kind.CORNERS} and lies.flat) or (
        kind is Kind.AROUND and lies.straight
    )


def call_through(maker: Maker, work: Work | None = None, *first: c.Command) -> Hat:
    """Works a whole hat as the session calls it, after what was said at first."""
    answers = {"head_mm": maker.head_mm, "yarn": maker.yarn, "hook_mm": maker.hook_mm}
    state = fold(State(), opening(State(), answers))
    for command in first:
        state = fold(state, decide(state, command))
    work, asked = work or Work(maker), Asked()
    while state.stage is not Stage.FINISHING or state.want is not None:
        if state.want is not None or state.doubt is not None:
            command = work.answer(state)
            asked.note(state, command)
            state = _done(state, command, work)
            continue
        assert state.offered is not None
        to_count = state.to_count == state.offered.number
        work.round(state)
        state = _done(state, c.Next(), work)
        asked.counts += to_count
        if to_count and not maker.refuses:
            state = _done(state, c.Counted(work.stitches), work)
    return work.hat(state, asked)


def _done(state: State, command: c.Command, work: Work) -> State:
    """The state after a command, with the rounds ripped that it has ripped."""
    turn = decide(state, command)
    work.rip(turn)
    return fold(state, turn)


class Work:
    """The cloth as it really is."""

    def __init__(self, maker: Maker) -> None:
        self.maker, self.width, self.height = maker, maker.width_mm, maker.height_mm
        self.along, self.brim, self.edge = maker.ring_mm, 0.0, 0.0
        self.stitches = 0
        self.loosened = False
        self.ripped = 0
        self._before: list[tuple[float, float, float, int]] = []

    def round(self, state: State) -> None:
        """Works the offered round; the girth that has to fit is that of the last one of sides."""
        offered = state.offered
        assert offered is not None
        self._before.append((self.along, self.brim, self.edge, self.stitches))
        tension = self.maker.rng.gauss(1, self.maker.drift)
        if offered.stage is Stage.SIDES and not self.loosened:
            tension *= 1 + self.maker.looser
            self.loosened = True
        self.width, self.height = self.width * tension, self.height * tension
        self.stitches += offered.after - offered.before + self.slip(offered)
        if offered.stage is Stage.BRIM:
            self.brim += self.height
        else:
            self.along += self.height
            self.edge = self.stitches * self.width

    def rip(self, turn: Sequence[e.Event]) -> int:
        """Takes out the rounds that a turn takes back; the hands stay as they are now."""
        rounds = sum(event.rounds for event in turn if isinstance(event, e.RoundsTakenBack))
        for _ in range(rounds):
            self.along, self.brim, self.edge, self.stitches = self._before.pop()
        self.ripped += rounds
        return rounds

    def slip(self, _offered: Round) -> int:
        """Stitches too many that are worked in a round; none by these hands."""
        return 0

    def answer(self, state: State) -> c.Command:
        """What the maker says when asked."""
        if state.doubt is not None:
            return c.Yes()
        want = state.want
        if want is None or self.maker.refuses:
            return c.Skip()
        if want.kind is Kind.LOOK:
            return c.Lies(self.look())
        true_mm = self.true_mm(want.kind, self.stitches, want.stitches)
        return c.Measured(self.maker.read(true_mm), want.kind, want.stitches)

    def true_mm(self, kind: Kind, stitches: int, along: int | None = None) -> float:
        """What a tape without error would show; `along` is how many stitches are measured."""
        return {
            Kind.ACROSS: 2 * self.along,
            Kind.CORNERS: 2 * self.along,
            Kind.AROUND: stitches * self.width,
            Kind.ALONG: (along or 1) * self.width,
            Kind.DEPTH: self.along,
            Kind.BRIM: self.brim,
        }[kind]

    def look(self) -> Look:
        """How the crown lies."""
        full = self.stitches * self.width / (math.tau * self.along)
        if full > RIPPLES_OVER:
            return Look.RIPPLES
        return Look.CUPS if full < CUPS_UNDER else Look.FLAT

    def hat(self, state: State, asked: Asked) -> Hat:
        """The finished hat against what was wanted and what was promised."""
        settings, piece = state.settings, state.piece
        slope = math.cos(math.radians(settings.slope))
        flat = self.edge + math.tau * self.brim * slope
        promised = girth_finished(piece)
        return Hat(
            self.maker,
            self.edge - settings.girth_mm,
            self.along - settings.depth,
            self.stitches * self.width / flat,
            abs(self.edge - promised.mean) <= 1.96 * promised.sd,
            asked,
        )
