"""Events that tell the gauge before the first stitch."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.gauge.estimate import Gauge
from pattern.trade.stitches import Stitch


@dataclass(frozen=True, slots=True)
class GaugeKnown:
    """The gauge learned on another piece, and its materials; recorded at the beginning."""

    piece: str
    gauge: Gauge
    yarn: int
    hook_mm: float
    stitch: Stitch


@dataclass(frozen=True, slots=True)
class SwatchTaken:
    """A swatch was measured."""

    count: int
    """Number of stitches or rounds measured."""
    length_mm: float
    step_mm: float
    rounds: bool
    washed: bool


@dataclass(frozen=True, slots=True)
class WashingKnown:
    """The effect of washing on this yarn, as the size after washing divided by the size before."""

    width: float
    height: float
