"""Usual sizes by what is made: the fit of a cap on its head, and the number that a word means."""

from __future__ import annotations

import math
from dataclasses import replace

from pattern.shape.limits import LIMITS
from pattern.shape.settings import Settings
from pattern.trade.fibres import Fibre
from pattern.trade.lengths import Unit

SNUG, SNUG_FIRM = 1 / 20, 1 / 50
"""Part of the head by which caps and bands are worked smaller, so that they hold; and those of yarn
that hardly gives. Common practice, no source: an inch or so of a grown head, a centimetre in
cotton."""
_STEP_MM = {Unit.INCH: 25.4 / 4}
_METRIC_STEP_MM = 5.0


def usual_ease_mm(settings: Settings) -> float:
    """Difference to the head where none is said: below 0 for shapes that never have a brim.

    It is rounded to a quarter of an inch, or half a centimetre.
    """
    shape = settings.shape
    if not shape.for_head or any(part.shaping.flared for part in shape.parts):
        return 0.0
    part = SNUG_FIRM if settings.fibre is Fibre.COTTON else SNUG
    step = _STEP_MM.get(settings.unit, _METRIC_STEP_MM)
    return -round(part * settings.head / step) * step


_BRIMS = {"narrow": 2 / 3, "wide": 3 / 2, "floppy": 11 / 6}
_DEPTHS = {"shallow": 0.9, "deep": 1.1}
SIZES: dict[str, dict[str, dict[str, float]]] = {
    "bucket hat": {"brim_mm": {"narrow": 3 / 4, "wide": 5 / 4, "floppy": 3 / 2}},
    "close cap": {"depth_mm": {"shallow": 0.85, "deep": 1.15}},
}
"""Sizes in words, as multiples of the usual one, for shapes where they differ from those below.
Common practice, no source."""
_ANY: dict[str, dict[str, float]] = {
    "brim_mm": _BRIMS,
    "depth_mm": _DEPTHS,
    "height_mm": {"shallow": 1 / 2, "deep": 3 / 2},
}
"""The same for all other shapes. Common practice, no source."""
_FITS = {"snug": -SNUG, "loose": 1 / 25}
"""Fits in words, as parts of the head: a loose one is an inch. Common practice, no source."""


def size_mm(settings: Settings, key: str, word: str) -> float | None:
    """The size that a word means for this shape, such as "wide"; None where it means none.

    It is rounded to a quarter of an inch, or half a centimetre, within the limits of the answer.
    """
    step = _STEP_MM.get(settings.unit, _METRIC_STEP_MM)
    if key == "ease_mm":
        part = _FITS.get(word) if settings.shape.for_head else None
        return None if part is None else _rounded(key, part * settings.head, step)
    of_shape = _ANY | SIZES.get(settings.shape.name, {})
    times = of_shape.get(key, {}).get(word)
    if times is None or key not in settings.shape.asked:
        return None
    usual = replace(settings, brim_mm=None, depth_mm=None, height_mm=None)
    whole = {"brim_mm": usual.brim, "depth_mm": usual.depth, "height_mm": usual.height}[key]
    return _rounded(key, times * whole, step)


def _rounded(key: str, size: float, step: float) -> float:
    limits = LIMITS[key]
    least, most = math.ceil(limits.least / step), math.floor(limits.most / step)
    return min(max(round(size / step), least), most) * step
