"""Commands of measuring by touch: a string cut to the head, fingers and hands."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.shape.fits import Fit
from pattern.shape.reading_kinds import Kind
from pattern.trade.lengths import Amount
from pattern.trade.own_units import OwnUnit


@dataclass(frozen=True, slots=True)
class OwnWidth:
    """How wide the maker's finger or hand is."""

    unit: OwnUnit
    amount: Amount


@dataclass(frozen=True, slots=True)
class StringOff:
    """A string cut to the head, laid along the edge, is so much too long or too short."""

    amount: Amount
    too_long: bool
    unit: OwnUnit | None = None
    """The part of the hand that the amount counts; None where it is a length."""


@dataclass(frozen=True, slots=True)
class ByHand:
    """A reading, or a word of trying on, told in widths of the maker's hand."""

    kind: Kind
    amount: Amount
    unit: OwnUnit = OwnUnit.FINGER
    fit: Fit | None = None
    """The word, where the piece was tried on."""
