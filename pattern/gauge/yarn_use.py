"""How much yarn a stitch, and a hat, takes; learned from weighing."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from pattern.gauge.estimate import Estimate, Gauge, prior
from pattern.shape.settings import Settings
from pattern.trade.tables import YARNS

YARN_PER_AREA = 1.24
"""Yarn in a piece of single, half double or double crochet in mm per mm2, class 4 on a 5 mm hook:
common practice, one data set. Finer yarn is thinner and needs more, as round heights go."""
USE_SPREAD = 0.15
"""How far one maker's use lies from that, relative: no source, as the usual reserve (10 to 20 %,
from memory)."""
OTHER_FIBRE = 0.08
"""How far a yarn's metres in a gram may lie from the figures of its class, which are mostly wool's;
relative, our choice."""
BAND_SPREAD = 0.02
"""How far a ball may lie from its band, relative; our choice."""
WEIGHED_G = 0.6
"""Spread of the difference of two weighings read to 1 g: sqrt(2 / 12) g, and a little damp."""
USE_DRIFT = 0.03
"""Change of a maker's use from what was weighed to what is left, relative: our choice."""


@dataclass(frozen=True, slots=True)
class Need:
    """An amount of yarn."""

    metres: Estimate
    grams: Estimate
    balls: Estimate | None
    """None while the ball's band is not known."""


@dataclass(frozen=True, slots=True)
class Weighing:
    """Yarn that was left when so many stitches were worked."""

    grams: float
    stitches: int
    fresh: bool
    """Not to be compared with the weighing before: the first, or yarn was added since."""


@dataclass(frozen=True, slots=True)
class Use:
    """Yarn in a stitch; spreads are relative, and `together` is their covariance."""

    metres: float
    grams: float
    metres_spread: float
    grams_spread: float
    together: float
    ball_metres: float | None = None
    ball_grams: float | None = None

    def for_stitches(self, stitches: float, unsure: float = 0.0) -> Need:
        """What so many stitches need; `unsure` is the standard deviation of their number."""
        metres = _times(self.metres, self.metres_spread, stitches, unsure)
        grams = _times(self.grams, self.grams_spread, stitches, unsure)
        known, ball = (grams, self.ball_grams) if self.ball_grams else (metres, self.ball_metres)
        return Need(metres, grams, Estimate(known.mean / ball, known.sd / ball) if ball else None)


def _times(each: float, spread: float, stitches: float, unsure: float) -> Estimate:
    return Estimate(each * stitches, each * math.hypot(stitches * spread, unsure))


def usual_use(
    settings: Settings,
    gauge: Gauge,
    ball_metres: float | None = None,
    ball_grams: float | None = None,
) -> Use:
    """The use before anything is weighed; metres on the ball band beat the class's.

    Wider stitches are fewer in a given girth, so the width adds nothing to the spread; how high the
    rounds are does to the number of stitches, see `for_stitches`.
    """
    middle = prior(replace(settings, yarn=4, hook_mm=5.0))
    metres = YARN_PER_AREA * gauge.width_mm * middle.height_mm / 1000
    least, most = YARNS[settings.yarn].metres_per_100g
    per_gram = (least + most) / 200
    loose = math.hypot((most - least) / (most + least) / math.sqrt(3), OTHER_FIBRE)
    if ball_metres and ball_grams:
        per_gram, loose = ball_metres / ball_grams, BAND_SPREAD
    return Use(
        metres,
        metres / per_gram,
        USE_SPREAD,
        math.hypot(USE_SPREAD, loose),
        USE_SPREAD**2,
        ball_metres,
        ball_grams,
    )


def learned(use: Use, grams_used: float, stitches_done: int) -> Use:
    """The use after the yarn was weighed before and after so many stitches, in one room.

    One Kalman step on the logarithms of metres and grams in a stitch.

    Raises: ValueError when nothing was used, or no stitch done.
    """
    if grams_used <= 0 or stitches_done <= 0:
        raise ValueError(f"{grams_used} g for {stitches_done} stitches")
    noise = math.hypot(WEIGHED_G / grams_used, USE_DRIFT)
    surprise = math.log(grams_used / stitches_done / use.grams)
    innovation = use.grams_spread**2 + noise**2
    of_metres, of_grams = use.together / innovation, use.grams_spread**2 / innovation
    return replace(
        use,
        metres=use.metres * math.exp(of_metres * surprise),
        grams=use.grams * math.exp(of_grams * surprise),
        metres_spread=math.sqrt(use.metres_spread**2 - of_metres * use.together),
        grams_spread=use.grams_spread * math.sqrt(1 - of_grams),
        together=use.together * (1 - of_grams),
    )
