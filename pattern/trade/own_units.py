"""Parts of the maker's own hand that lengths are told in. Widths: common practice, no source."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum


class OwnUnit(StrEnum):
    """A part of the hand that is laid on the work."""

    FINGER = "finger"
    THUMB = "thumb"
    HAND = "hand"


LIMITS_MM: dict[OwnUnit, tuple[float, float]] = {
    OwnUnit.FINGER: (10.0, 30.0),
    OwnUnit.THUMB: (12.0, 35.0),
    OwnUnit.HAND: (50.0, 130.0),
}
"""Widths that a finger, a thumb and a hand can have; our choice."""


@dataclass(frozen=True, slots=True)
class OwnWidths:
    """Widths of the maker's hand, as told or as they usually are."""

    finger_mm: float = 18.0
    hand_mm: float = 85.0
    thumb_mm: float = 22.0

    def of(self, unit: OwnUnit) -> float:
        """Width of that part in mm."""
        width_mm: float = getattr(self, f"{unit.value}_mm")
        return width_mm

    def told(self, unit: OwnUnit, width_mm: float) -> OwnWidths:
        """The widths with one that the maker measured."""
        return replace(self, **{f"{unit.value}_mm": width_mm})
