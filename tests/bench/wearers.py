"""Simulated makers who try on: the words that they find, drawn apart from the program's table.

Every number is the simulator's own choice, made once and not for a nicer table; none is imported
from `pattern`. Where a word begins and ends differs from head to head and hand to hand.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from enum import Enum

from pattern.session import commands as c
from pattern.session.commands import Fit, Kind
from pattern.session.state import State
from pattern.shape.reading_kinds import BY_TAPE
from pattern.trade.lengths import Amount, Unit
from tests.bench.calling import Work
from tests.bench.makers import Maker

BEGINS_MM = {Fit.TIGHT: -42.0, Fit.SNUG: -17.0, Fit.RIGHT: -6.0, Fit.LOOSE: 7.0, Fit.SLIDES: 24.0}
"""Slack at which each word begins, in the mean; anything tighter will not go on."""
SENSE = 0.25
"""Relative spread of how soon makers say so: some feel a few millimetres, some a finger."""
OFF_MM, EACH_MM = 4.0, 3.0
"""A maker's own notion of right, and what differs from one trying on to the next, one standard
deviation each."""
PINCHES = 0.3
"""Share of makers who tell what they can pinch where it is loose."""
FOLD, ASKED_FOLD = (1.0, 2.2), (1.6, 2.2)
"""Circumference in a pinch, in lengths of it: cloth or fold, evenly; and where it is asked how far
the fold stands off."""
STANDS_MM, STANDS_SPREAD = 8.0, 3.0
"""Circumference that can be pinched up in a hat that fits."""
BROW = {Fit.HIGH: -30.0, Fit.SHORT: -9.0, Fit.ABOVE: 6.0, Fit.AT_BROW: 18.0}
"""Edge that is no lower, for each word; anything lower is below the eyebrows."""
BROW_OFF_MM = 4.0
STRING_MM, LAID_MM, FINGER_MM = 1.5, (1.5, 4.0), (18.0, 1.5)
"""How exactly a string is cut to a head, one standard deviation; how exactly it is laid, each maker
has one, evenly; and how wide fingers are, with their spread."""
HEAD_OFF_MM = 12.0
"""How far the depth for a head is off the table's, one standard deviation."""


class Way(Enum):
    """With what a maker measures."""

    TAPE = "the tape alone"
    HEAD = "only trying on"
    BOTH = "trying on besides the tape"
    STRING = "a string and fingers"


@dataclass
class Wearer(Maker):
    """A maker with the head at hand."""

    way: Way = Way.HEAD
    sense: float = field(init=False)
    own_mm: float = field(init=False)
    pinches: bool = field(init=False)
    fold: float = field(init=False)
    asked_fold: float = field(init=False)
    stands_mm: float = field(init=False)
    deeper_mm: float = field(init=False)
    string_off_mm: float = field(init=False)
    laid_mm: float = field(init=False)
    finger_mm: float = field(init=False)

    def __post_init__(self) -> None:
        """Draws the hands, and apart from them how words are found."""
        super().__post_init__()
        rng = random.Random(self.rng.random())
        self.sense = rng.lognormvariate(0, SENSE)
        self.own_mm = rng.gauss(0, OFF_MM)
        self.pinches = rng.random() < PINCHES
        self.asked_fold = rng.uniform(*ASKED_FOLD)
        self.fold, self.stands_mm = rng.uniform(*FOLD), rng.gauss(STANDS_MM, STANDS_SPREAD)
        self.deeper_mm = rng.gauss(0, HEAD_OFF_MM)
        self.string_off_mm, self.laid_mm = rng.gauss(0, STRING_MM), rng.uniform(*LAID_MM)
        self.finger_mm = rng.gauss(*FINGER_MM)

    def around(self, slack_mm: float) -> c.TriedOn:
        """The word for so much slack."""
        felt = slack_mm - self.own_mm + self.rng.gauss(0, EACH_MM)
        fit = Fit.NOT_ON
        for word, begins in BEGINS_MM.items():
            if felt > begins * self.sense:
                fit = word
        if self.pinches and fit in {Fit.LOOSE, Fit.SLIDES}:
            return self.pinch(slack_mm, self.fold)
        return c.TriedOn(fit)

    def pinch(self, slack_mm: float, fold: float) -> c.TriedOn:
        """The pinch of so much slack, to half a centimetre."""
        felt = slack_mm + self.rng.gauss(0, EACH_MM)
        pinch_mm = (felt + self.stands_mm) / fold
        return c.TriedOn(Fit.PINCH, Amount(max(round(pinch_mm / 5), 1) / 2, 0.5, Unit.CM))

    def string(self, slack_mm: float) -> c.StringOff:
        """The string laid along an edge with so much slack, in fingers to half a one."""
        over = slack_mm - self.string_off_mm + self.rng.gauss(0, self.laid_mm)
        halves = round(2 * over / self.finger_mm)
        return c.StringOff(Amount(abs(halves) / 2, 0.5), halves < 0, c.OwnUnit.FINGER)

    def in_fingers(self, kind: Kind, true_mm: float) -> c.ByHand:
        """A length laid off with a finger, to half a one."""
        laid_mm = true_mm + self.rng.gauss(0, self.laid_mm)
        halves = max(round(2 * laid_mm / self.finger_mm), 1)
        return c.ByHand(kind, Amount(halves / 2, 0.5))

    def own_finger(self) -> c.OwnWidth:
        """The width of the finger, as it was measured once, to a millimetre."""
        return c.OwnWidth(c.OwnUnit.FINGER, Amount(float(round(self.finger_mm)), 1.0, Unit.MM))

    def edge(self, low_mm: float) -> c.TriedOn:
        """The word for an edge so much lower than it should be."""
        seen = low_mm + self.rng.gauss(0, BROW_OFF_MM)
        return c.TriedOn(next((fit for fit, most in BROW.items() if seen <= most), Fit.BELOW))


class Strung(Work):
    """The cloth of a maker who has no more than a string cut to the head, and fingers."""

    def answer(self, state: State) -> c.Command:
        """The string for what goes around, fingers for other lengths; none along stitches."""
        maker, want = self.maker, state.want
        assert isinstance(maker, Wearer)
        if state.doubt is not None or want is None or want.kind is Kind.LOOK:
            return super().answer(state)
        if want.kind is Kind.AROUND:
            return maker.string(self.stitches * self.width - state.settings.girth_mm)
        if want.kind is Kind.ALONG:
            return c.Skip()
        return maker.in_fingers(want.kind, self.true_mm(want.kind, self.stitches))


class Worn(Work):
    """The cloth of a maker who tries it on."""

    tried = 0
    """Times that it was tried on; what is told at one time counts once."""
    _at = (0, 0)

    def answer(self, state: State) -> c.Command:
        """The maker's answer."""
        maker, want = self.maker, state.want
        assert isinstance(maker, Wearer)
        if state.doubt is not None or want is None:
            return super().answer(state)
        settings, now = state.settings, (state.piece.finished, self.ripped)
        if want.kind in BY_TAPE and now != self._at:
            self.tried, self._at = self.tried + 1, now
        match want.kind:
            case Kind.FIT:
                return maker.around(self.stitches * self.width - settings.girth_mm)
            case Kind.PINCH:
                slack_mm = self.stitches * self.width - settings.girth_mm
                return maker.pinch(slack_mm, maker.asked_fold)
            case Kind.EDGE:
                return maker.edge(self.along - self.wanted_mm(state))
            case Kind.WORN:
                return c.TriedOn(Fit.FALLS)
        return super().answer(state)

    def wanted_mm(self, state: State) -> float:
        """The depth that this head wants."""
        assert isinstance(self.maker, Wearer)
        return state.settings.girth_mm / 3 + 10 + self.maker.deeper_mm
