"""Events of what is known of the gauge before the first stitch."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.gauge.estimate import Gauge
from pattern.trade.tables import Stitch


@dataclass(frozen=True, slots=True)
class GaugeKnown:
    """The gauge that was learned on another piece, and with what; said at the beginning."""

    piece: str
    gauge: Gauge
    yarn: int
    hook_mm: float
    stitch: Stitch


@dataclass(frozen=True, slots=True)
class SwatchTaken:
    """A swatch was measured."""

    count: int
    """Stitches, or rounds."""
    length_mm: float
    step_mm: float
    rounds: bool
    washed: bool


@dataclass(frozen=True, slots=True)
class WashingKnown:
    """What washing does to this yarn: size after it over size before it."""

    width: float
    height: float
