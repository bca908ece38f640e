"""The area of what is to be covered, and the yarn that it takes: another way to the same number."""

from __future__ import annotations

import math
from collections.abc import Sequence

from pattern.gauge.estimate import Gauge
from pattern.gauge.yarn_use import Need, usual_use
from pattern.shape.geometry import Part
from pattern.shape.profile import profile
from pattern.shape.rounds import Stage
from pattern.shape.settings import Settings

_STEPS = 64
"""Of Simpson's rule, a part."""


def area_mm2(parts: Sequence[Part]) -> float:
    """Area of the surface of revolution: the integral of 2 pi r ds, by Simpson's rule a part."""
    total, start = 0.0, 0.0
    for part in parts:
        step = part.length_mm / _STEPS
        radii = [start + part.outward_mm(i * step) for i in range(_STEPS + 1)]
        ends = radii[0] + radii[-1] + 4 * sum(radii[1::2]) + 2 * sum(radii[2:-1:2])
        total += math.tau * ends * step / 3
        start = radii[-1]
    return total


def whole_piece(settings: Settings, gauge: Gauge) -> Need:
    """What the piece needs from its first stitch to its last, by the area of its shape."""
    stretches = profile(settings)
    parts = [stretch.part for stretch in stretches]
    area = area_mm2(parts)
    if stretches[-1].stage is Stage.BRIM:
        area += (settings.fullness - 1) * (area - area_mm2(parts[:-1]))
    stitches = area / (gauge.width_mm * gauge.height_mm)
    lower = gauge.of((0.0, 1.0, 0.0)).sd / gauge.height_mm
    return usual_use(settings, gauge).for_stitches(stitches, stitches * lower)
