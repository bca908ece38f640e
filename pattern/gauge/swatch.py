"""A swatch worked in the round: what it says of the gauge, and of what washing does."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from pattern.gauge.estimate import DOUBT, Gauge, Row
from pattern.gauge.gauge_events import SwatchTaken
from pattern.shape.settings import Settings

HAND_MM = 1.5
"""How exactly a tape is laid on a flat swatch, one standard deviation: no source."""
OTHERWISE = 0.03
"""How far a piece comes out otherwise than its swatch, relative, one standard deviation: no source,
as one maker's tension changes from piece to piece."""
SHRINKAGE_UNKNOWN = 0.04
"""What washing may do to a swatch that was only measured after it, relative: cotton jersey shrinks
by 4 to 10 % in length (read as a copy), other fibres less; the low end is taken."""
LEAST_RATIO, MOST_RATIO = 0.6, 1.3
"""After washing over before it; anything beyond is a slip of the tape or felting, our choice."""


@dataclass(frozen=True, slots=True)
class Washing:
    """Size after washing over size before it."""

    width: float = 1.0
    height: float = 1.0


def one_mm(taken: SwatchTaken) -> float:
    """One stitch's width, or one round's height."""
    return taken.length_mm / taken.count


def learned(gauge: Gauge, taken: SwatchTaken, earlier: Iterable[SwatchTaken] = ()) -> Gauge:
    """The gauge, as the tape finds it before washing, after the swatch was measured.

    One that was measured before it was washed says nothing new of it when it is washed. A swatch
    far off from what was believed widens the belief until it is two standard deviations off, as a
    reading that was insisted on does.
    """
    row: Row = (0.0, float(taken.count), 0.0) if taken.rounds else (float(taken.count), 0.0, 0.0)
    if washed_ratio(taken, earlier) is not None:
        return gauge
    unsure, value = SHRINKAGE_UNKNOWN if taken.washed else 0.0, taken.length_mm
    relative = math.hypot(OTHERWISE, unsure) * value
    noise = math.sqrt(HAND_MM**2 + taken.step_mm**2 / 12 + relative**2)
    hoped = gauge.of(row)
    surprise = abs(value - hoped.mean)
    if surprise > DOUBT * math.hypot(hoped.sd, noise):
        wanted = (surprise / 2) ** 2 - noise**2
        gauge = gauge.widened(max(wanted / hoped.sd**2, 1.0))
    return gauge.learned(row, value, noise)


def all_learned(gauge: Gauge, swatches: tuple[SwatchTaken, ...]) -> Gauge:
    """The gauge after every one of the swatches."""
    for number, taken in enumerate(swatches):
        gauge = learned(gauge, taken, swatches[:number])
    return gauge


def washed_ratio(taken: SwatchTaken, earlier: Iterable[SwatchTaken]) -> float | None:
    """What washing did along the swatch; None while it was not measured both before and after."""
    before = [one for one in earlier if one.rounds is taken.rounds and not one.washed]
    return one_mm(taken) / one_mm(before[-1]) if taken.washed and before else None


def to_work(wanted: Settings, washing: Washing) -> Settings:
    """The sizes to work to, so that washing makes them the wanted ones."""
    if not wanted.shape.for_head:
        return replace(
            wanted,
            across_mm=wanted.across / washing.width,
            height_mm=wanted.height / washing.height,
        )
    return replace(
        wanted,
        head_mm=(wanted.girth_mm - wanted.ease_mm) / washing.width,
        ease_mm=wanted.ease_mm / washing.width,
        depth_mm=wanted.depth / washing.height,
        brim_mm=wanted.brim / washing.height,
    )
