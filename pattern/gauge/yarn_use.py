"""Yarn that a stitch and a piece take, learned from weighing."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from pattern.gauge.estimate import Estimate, Gauge
from pattern.gauge.prior import prior
from pattern.shape.settings import Settings
from pattern.trade.yarns_and_hooks import YARNS

YARN_PER_AREA = 1.24
"""Yarn in a piece of single, half double or double crochet, in mm per mm2, for yarn class 4 on a 5
mm hook: common practice, one data set. Finer yarn needs more, in inverse proportion to round
height."""
USE_SPREAD = 0.15
"""Relative spread of makers' yarn use about YARN_PER_AREA: no source; taken from the usual reserve
(10 to 20 %, from memory)."""
OTHER_FIBRE = 0.08
"""Relative spread of a yarn's metres per gram about the figures of its class, which are mostly for
wool; our choice."""
BAND_SPREAD = 0.02
"""Relative spread of a ball's length and weight about its ball band; our choice."""
WEIGHED_G = 0.6
"""Spread of the difference of two weighings to 1 g: sqrt(2 / 12) g, and some for moisture."""
USE_DRIFT = 0.03
"""Relative change of a maker's yarn use between the weighed part and the rest; our choice."""


@dataclass(frozen=True, slots=True)
class Need:
    """An amount of yarn."""

    metres: Estimate
    grams: Estimate
    balls: Estimate | None
    """None if the ball band is not known."""


@dataclass(frozen=True, slots=True)
class Weighing:
    """Yarn left after a number of stitches."""

    grams: float
    stitches: int
    fresh: bool
    """True if it cannot be compared with an earlier weighing: it is the first, or yarn was
    added."""


@dataclass(frozen=True, slots=True)
class Use:
    """Yarn in one stitch; spreads are relative, and `together` is their covariance."""

    metres: float
    grams: float
    metres_spread: float
    grams_spread: float
    together: float
    ball_metres: float | None = None
    ball_grams: float | None = None

    def for_stitches(self, stitches: float, unsure: float = 0.0) -> Need:
        """Yarn for this number of stitches; `unsure` is the standard deviation of the number."""
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
    """Yarn use before anything is weighed, from the ball band or else from the yarn class.

    Wider stitches are fewer in a given girth, so the stitch width adds nothing to the spread. The
    round height adds to the spread of the number of stitches, see `for_stitches`.
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
    """Yarn use after weighing before and after a number of stitches, in the same room.

    It is one Kalman step on the logarithms of metres and grams in a stitch.

    Raises: ValueError when no yarn was used, or no stitch worked.
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
