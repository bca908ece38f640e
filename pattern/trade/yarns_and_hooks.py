"""Yarn weight classes and the hook sizes that are sold."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class YarnClass:
    """A class of yarn weight with its published gauge in single crochet."""

    name: str
    fewest_in_4in: float
    most_in_4in: float
    hook_least_mm: float
    hook_most_mm: float
    metres_per_100g: tuple[float, float]
    """Range in metres, mostly for wool. Common practice, no source."""


YARNS: tuple[YarnClass, ...] = (
    YarnClass("lace", 32, 42, 1.5, 2.25, (600, 800)),
    YarnClass("super fine", 21, 32, 2.25, 3.5, (350, 600)),
    YarnClass("fine", 16, 20, 3.5, 4.5, (250, 350)),
    YarnClass("light", 12, 17, 4.5, 5.5, (200, 250)),
    YarnClass("medium", 11, 14, 5.5, 6.5, (120, 200)),
    YarnClass("bulky", 8, 11, 6.5, 9.0, (100, 130)),
    YarnClass("super bulky", 7, 9, 9.0, 15.0, (40, 100)),
    YarnClass("jumbo", 5, 6, 15.0, 25.0, (20, 40)),
)
"""Index = class number. Gauge and hooks: Craft Yarn Council, Standard Yarn Weight System, from a
copy; the Council calls them guidelines. The open ranges are closed by our choice: "6 and fewer" at
5, "15 mm and larger" at 25 mm, "600 and up" at 800 m, "under 40" at 20 m.
"""

HOOKS_MM = (
    1.5,
    1.75,
    2.0,
    2.25,
    2.75,
    3.25,
    3.5,
    3.75,
    4.0,
    4.5,
    5.0,
    5.5,
    6.0,
    6.5,
    8.0,
    9.0,
    10.0,
    12.0,
    15.0,
    16.0,
    20.0,
    25.0,
)
"""Hook diameters that are sold. Common practice, no source."""
