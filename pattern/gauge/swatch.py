"""Learns the gauge, and the effect of washing, from a swatch worked in the round."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from pattern.gauge.estimate import DOUBT, Gauge, Row
from pattern.gauge.gauge_events import SwatchTaken
from pattern.shape.settings import Settings

HAND_MM = 1.5
"""Error of laying a tape on a flat swatch, one standard deviation: no source."""
OTHERWISE = 0.03
"""Relative difference of a piece from its swatch, one standard deviation: no source; taken as the
change of a maker's tension from piece to piece."""
SHRINKAGE_UNKNOWN = 0.04
"""Relative effect of washing that is unknown when a swatch was only measured after it. Cotton
jersey shrinks by 4 to 10 % in length (read as a copy), other fibres less; the low end is taken."""
LEAST_RATIO, MOST_RATIO = 0.6, 1.3
"""Limits of the size after washing over that before it; our choice. Beyond them it is felting or a
mistake with the tape."""


@dataclass(frozen=True, slots=True)
class Washing:
    """Size after washing divided by size before it."""

    width: float = 1.0
    height: float = 1.0


def one_mm(taken: SwatchTaken) -> float:
    """Width of one stitch, or height of one round, in mm."""
    return taken.length_mm / taken.count


def learned(gauge: Gauge, taken: SwatchTaken, earlier: Iterable[SwatchTaken] = ()) -> Gauge:
    """The unwashed gauge after the swatch was measured.

    A swatch that was already measured unwashed adds nothing when it is measured again after
    washing. A swatch far off from the expected gauge widens its spread until it is two standard
    deviations off, as a reading that the maker confirms does.
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
    """The gauge after all the swatches."""
    for number, taken in enumerate(swatches):
        gauge = learned(gauge, taken, swatches[:number])
    return gauge


def washed_ratio(taken: SwatchTaken, earlier: Iterable[SwatchTaken]) -> float | None:
    """Effect of washing along the swatch; None until it is measured both before and after."""
    before = [one for one in earlier if one.rounds is taken.rounds and not one.washed]
    return one_mm(taken) / one_mm(before[-1]) if taken.washed and before else None


def to_work(wanted: Settings, washing: Washing) -> Settings:
    """The sizes to work to, so that the piece has the wanted sizes after washing."""
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
