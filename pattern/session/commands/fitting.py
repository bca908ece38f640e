"""Commands of trying on, and of what there is to measure with."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.shape.fits import Fit
from pattern.trade.lengths import Amount


@dataclass(frozen=True, slots=True)
class TriedOn:
    """How the piece sits on the head it is for."""

    fit: Fit
    amount: Amount | None = None
    """Its length, or its number of fingers, where the word has one."""


@dataclass(frozen=True, slots=True)
class TapeThere:
    """Whether there is a tape to measure with."""

    there: bool


@dataclass(frozen=True, slots=True)
class HeadThere:
    """Whether the head that the piece is for can be tried on."""

    there: bool
