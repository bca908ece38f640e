"""Fibres of yarn, and how a piece of each is washed and shaped."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Fibre(StrEnum):
    """The fibre that the yarn is spun from."""

    WOOL = "wool"
    WASHABLE = "washable wool"
    COTTON = "cotton"
    ACRYLIC = "acrylic"
    MIXED = "mixed"


LABEL = "Follow the label of the yarn."
"""Added to every washing instruction, since the yarn's manufacturer knows it best."""


@dataclass(frozen=True, slots=True)
class Care:
    """Instructions for washing a piece and firming its brim, as full sentences to hear or read."""

    wash: str
    brim: str


CARE: dict[Fibre, Care] = {
    Fibre.WOOL: Care(
        "Soak it in cool water without rubbing, press it out in a towel, never wring it.",
        "For a firmer brim, steam it from a hand's width away and let it dry flat.",
    ),
    Fibre.WASHABLE: Care(
        "Wash it cool and hold its weight up: it stretches while wet; press it out in a towel.",
        "For a firmer brim, dry it flat and do not hang it.",
    ),
    Fibre.COTTON: Care(
        "Wash it as you will wash it later, for it shrinks the first time; press it out.",
        "For a firmer brim, dip it in starch, and dry it flat.",
    ),
    Fibre.ACRYLIC: Care(
        "Wash it lukewarm and let it drip; no iron and no hot steam: heat makes it limp for good.",
        "For a firmer brim, starch it, and dry it flat.",
    ),
    Fibre.MIXED: Care(
        "Wash it as its most delicate fibre wants, cool and without rubbing; press it out.",
        "For a firmer brim, dry it flat; starch takes on cotton.",
    ),
}
"""Common practice, no source."""
