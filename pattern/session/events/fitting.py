"""Events of trying on, and of what there is to measure with."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.plan.trying_on import Head
from pattern.trade.own_units import OwnUnit


@dataclass(frozen=True, slots=True)
class SizeFitted:
    """Trying on settled a size, over the table and over the tape."""

    key: str
    value_mm: float


@dataclass(frozen=True, slots=True)
class OwnWidthKnown:
    """The maker's finger or hand is so wide."""

    unit: OwnUnit
    width_mm: float


@dataclass(frozen=True, slots=True)
class MeansKnown:
    """Whether there is a tape, and whether the head is at hand."""

    tape: bool
    head: Head
