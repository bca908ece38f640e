"""Limits of the answers: ranges of numbers, sets of words, and how to change one answer."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import Any

from pattern.shape.profile import parts_of
from pattern.shape.settings import Answered, Settings
from pattern.shape.shape_text import shape_from
from pattern.trade.fibres import Fibre
from pattern.trade.lengths import TAPE_UNITS, Unit
from pattern.trade.stitches import Stitch, Terms


@dataclass(frozen=True, slots=True)
class Limits:
    """Limits of a number that the interview asks for."""

    least: float
    most: float
    whole: bool = False
    tape: bool = True
    """Said in the maker's unit of length; if False, in its own unit (mm for a hook, degrees)."""

    def hold(self, value: float) -> bool:
        """Whether the number is within the limits; a number that is not finite never is."""
        return self.least <= value <= self.most and (not self.whole or float(value).is_integer())


LIMITS: dict[str, Limits] = {
    "head_mm": Limits(280, 720),
    "across_mm": Limits(30, 2000),
    "height_mm": Limits(10, 1000),
    "hook_mm": Limits(1, 30, tape=False),
    "yarn": Limits(0, 7, whole=True, tape=False),
    "start": Limits(4, 24, whole=True, tape=False),
    "ease_mm": Limits(-100, 100),
    "depth_mm": Limits(80, 450),
    "brim_mm": Limits(0, 250),
    "slope_deg": Limits(0, 85, tape=False),
    "fullness": Limits(0.7, 2.0, tape=False),
    "age_years": Limits(0, 120, tape=False),
    "ball_g": Limits(5, 2000, tape=False),
    "ball_m": Limits(5, 5000, tape=False),
    "stash_g": Limits(1, 20000, tape=False),
}
"""Heads run from a small newborn (WHO 2006, 3rd centile 31.7 cm, less a margin) to US size 9."""

WORDS: dict[str, frozenset[Unit] | frozenset[Terms] | frozenset[Stitch] | frozenset[Fibre]] = {
    "unit": TAPE_UNITS,
    "terms": frozenset(Terms),
    "stitch": frozenset(Stitch),
    "fibre": frozenset(Fibre),
}
"""Answers that are chosen from a few words."""
IN_GRAMS = frozenset({"ball_g", "stash_g"})
"""Answers that are weights."""
YES_OR_NO = frozenset({"joined", "stacked"})
_DEFAULTS: dict[str, Any] = {item.name: item.default for item in fields(Settings)}

MOST_ALONG_MM = 10_000.0
"""Longest fabric from the centre of a piece to its edge, over three times that of the largest ball.
A custom shape may have twelve parts, each six times as long as its girth. Our choice."""


def too_long(settings: Settings) -> bool:
    """Whether the piece is longer from centre to edge than this program plans."""
    return sum(part.length_mm for part in parts_of(settings)) > MOST_ALONG_MM


def with_answer(settings: Settings, key: str, value: Answered) -> Settings:
    """The settings with one answer changed; None resets it to "not said".

    Raises: ValueError, naming the key, for an invalid answer, such as a number outside its limits.
    """
    if key not in _DEFAULTS:
        raise ValueError(key)
    fitting: Any = _DEFAULTS[key] if value is None else _fitting(key, value)
    return replace(settings, **{key: fitting})


def _fitting(key: str, value: str | float | bool) -> Any:  # noqa: ANN401, FBT001 (its setting's kind)
    """The value converted to the type of its setting."""
    if key == "shape":
        return shape_from(str(value))
    if key in WORDS:
        found = next((word for word in WORDS[key] if word == value), None)
        if found is None:
            raise ValueError(f"{key}: {value}")
        return found
    if key in YES_OR_NO:
        if not isinstance(value, bool):
            raise ValueError(key)
        return value
    limits = LIMITS[key]
    if isinstance(value, bool | str) or not limits.hold(value):
        raise ValueError(key)
    return int(value) if limits.whole else float(value)
