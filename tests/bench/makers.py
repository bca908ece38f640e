"""Simulated makers: hidden true hands, drawn without a look at what the program believes.

Every number here is the simulator's own choice, made once and not for a nicer table; none is
imported from `pattern`, so that the program cannot be right merely by agreeing with itself.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, field
from enum import Enum

from pattern.trade.lengths import Amount, Unit

HEAD_MM = (450.0, 600.0)
"""Heads, evenly: a one-year-old's to a large adult's."""
CLASSES: dict[int, tuple[float, float, tuple[float, ...]]] = {
    3: (14.5, 5.0, (3.5, 4.0, 4.5, 5.0)),
    4: (12.5, 6.0, (4.0, 4.5, 5.0, 5.5)),
    5: (9.5, 7.75, (5.5, 6.0, 6.5, 8.0)),
}
"""Yarn class: single crochet in 4 in and hook in mm, both at the middle of the published range
(Craft Yarn Council, Standard Yarn Weight System, from a copy), and the hooks that makers take."""
HOOK_POWER = (0.4, 1.0)
"""Stitch width grows as hook diameter to a power that differs from maker to maker, evenly."""
TENSION = {"tighter": 0.96, "even": 1.0, "looser": 1.04}
"""Three crowds of makers, alike in number: their mean stitch width over the published one."""
WIDTH_SPREAD = 0.12
"""Stitch widths within a crowd, relative."""
RATIO, RATIO_SPREAD = 1.04, 0.09
"""Height over width of single crochet: between 0.95, at which six increases a round lie flat, as
most makers find (common practice, no source), and 1.0 to 1.25 (common practice, one test)."""
RING_WIDTHS = (0.1, 0.8)
"""Radius of the ring in stitch widths, evenly."""
DRIFT = (0.001, 0.004)
"""Relative random walk of tension a round, one standard deviation; each maker has one, evenly."""
LOOSER, LOOSER_SPREAD = 0.02, 0.02
"""By how much straight rounds come out looser than a crown, relative."""
TAPE_MM = (1.0, 3.0)
"""How exactly a maker lays the tape, one standard deviation; each maker has one, evenly."""


class Tape(Enum):
    """How finely a maker reads: (steps in a unit, unit)."""

    QUARTERS = (4, Unit.INCH)
    EIGHTHS = (8, Unit.INCH)
    MILLIMETRES = (1, Unit.MM)


TAPES = (Tape.QUARTERS,) * 3 + (Tape.EIGHTHS, Tape.MILLIMETRES)
"""Three makers in five read to a quarter of an inch."""


@dataclass
class Maker:
    """One pair of hands with a head to fit; all but yarn and hook is hidden from the caller."""

    rng: random.Random
    refuses: bool = False
    """Whether every reading that is asked for is left out."""
    crowd: str = field(init=False)
    yarn: int = field(init=False)
    hook_mm: float = field(init=False)
    tape: Tape = field(init=False)
    head_mm: float = field(init=False)
    width_mm: float = field(init=False)
    height_mm: float = field(init=False)
    ring_mm: float = field(init=False)
    looser: float = field(init=False)
    """Relative change of tension where the sides begin."""
    drift: float = field(init=False)
    tape_mm: float = field(init=False)

    def __post_init__(self) -> None:
        """Draws the hands."""
        rng = self.rng
        self.crowd = rng.choice(list(TENSION))
        self.yarn = rng.choice(list(CLASSES))
        in_4in, middle_mm, hooks = CLASSES[self.yarn]
        self.hook_mm, self.tape = rng.choice(hooks), rng.choice(TAPES)
        self.head_mm = rng.uniform(*HEAD_MM)
        usual = 101.6 / in_4in * (self.hook_mm / middle_mm) ** rng.uniform(*HOOK_POWER)
        self.width_mm = usual * TENSION[self.crowd] * rng.lognormvariate(0, WIDTH_SPREAD)
        self.height_mm = self.width_mm * RATIO * rng.lognormvariate(0, RATIO_SPREAD)
        self.ring_mm = self.width_mm * rng.uniform(*RING_WIDTHS)
        self.looser = rng.gauss(LOOSER, LOOSER_SPREAD)
        self.drift, self.tape_mm = rng.uniform(*DRIFT), rng.uniform(*TAPE_MM)

    def read(self, true_mm: float) -> Amount:
        """What the maker says of a length: laid with an error, then read to the tape's step.

        A fraction is said in its lowest terms, as a person does: four eighths are a half.
        """
        parts, unit = self.tape.value
        laid_mm = true_mm + self.rng.gauss(0, self.tape_mm)
        steps = max(round(laid_mm * parts / (25.4 if unit is Unit.INCH else 1)), 1)
        return Amount(steps / parts, math.gcd(steps, parts) / parts, unit)
