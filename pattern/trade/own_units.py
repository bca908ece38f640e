"""Parts of the maker's own hand that lengths are told in. Widths: common practice, no source."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum


class OwnUnit(StrEnum):
    """A part of the hand that is laid on the work."""

    FINGER = "finger"
    HAND = "hand"


LIMITS_MM: dict[OwnUnit, tuple[float, float]] = {
    OwnUnit.FINGER: (10.0, 30.0),
    OwnUnit.HAND: (50.0, 130.0),
}
"""Widths that a finger and a hand can have; our choice."""


@dataclass(frozen=True, slots=True)
class OwnWidths:
    """Widths of the maker's hand, as told or as they usually are."""

    finger_mm: float = 18.0
    hand_mm: float = 85.0

    def of(self, unit: OwnUnit) -> float:
        """Width of that part in mm."""
        return self.finger_mm if unit is OwnUnit.FINGER else self.hand_mm

    def told(self, unit: OwnUnit, width_mm: float) -> OwnWidths:
        """The widths with one that the maker measured."""
        if unit is OwnUnit.FINGER:
            return replace(self, finger_mm=width_mm)
        return replace(self, hand_mm=width_mm)
