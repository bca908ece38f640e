"""Stitches by name, with the usual facts about each."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Stitch(StrEnum):
    """Stitches by their US names."""

    SINGLE = "single"
    HALF_DOUBLE = "half double"
    DOUBLE = "double"
    TREBLE = "treble"


class Terms(StrEnum):
    """The dialect of stitch names."""

    US = "us"
    UK = "uk"


@dataclass(frozen=True, slots=True)
class StitchFacts:
    """Usual facts about a stitch, used until the maker's own gauge is measured."""

    uk_name: str
    us_short: str
    uk_short: str
    start: int
    """Stitches worked into the ring. Common practice, no source."""
    height_in_widths: float
    """Round height divided by stitch width, when worked in the round: between the value at which
    the usual start lies flat (2 pi h / w = start) and that of the usual relative heights 1, 1.5, 2,
    3, with single crochet in unturned rounds at 1.0 to 1.25. Derived from common practice and one
    test, no source.
    """
    turning_chains: int
    """Chains that reach the stitch's height. Common practice, no source."""


STITCHES: dict[Stitch, StitchFacts] = {
    Stitch.SINGLE: StitchFacts("double", "sc", "dc", 6, 1.04, 1),
    Stitch.HALF_DOUBLE: StitchFacts("half treble", "hdc", "htr", 8, 1.40, 2),
    Stitch.DOUBLE: StitchFacts("treble", "dc", "tr", 12, 1.95, 3),
    Stitch.TREBLE: StitchFacts("double treble", "tr", "dtr", 16, 2.70, 4),
}
"""US and UK names: a trade council's booklet, read as a copy, not in the original."""


_CHAIN_COUNTS: dict[Terms, frozenset[Stitch]] = {
    Terms.US: frozenset({Stitch.DOUBLE, Stitch.TREBLE}),
    Terms.UK: frozenset({Stitch.HALF_DOUBLE, Stitch.DOUBLE, Stitch.TREBLE}),
}
"""Stitches whose starting chain counts as the first of a joined round. Common practice, no source:
one chain never does, three and four do, and of two the US patterns mostly say no, the UK ones yes.
"""


def chain_counts(stitch: Stitch, terms: Terms) -> bool:
    """Whether the chain that begins a joined round counts as its first stitch."""
    return stitch in _CHAIN_COUNTS[terms]


def lower_than(stitch: Stitch) -> tuple[Stitch, ...]:
    """The stitches lower than this one, the tallest first: by them a spiral steps down."""
    return tuple(Stitch)[: tuple(Stitch).index(stitch)][::-1]


def stitch_name(stitch: Stitch, terms: Terms) -> str:
    """The full name in the maker's terms, such as "single crochet"."""
    return f"{stitch.value if terms is Terms.US else STITCHES[stitch].uk_name} crochet"


def stitch_called(name: str, terms: Terms) -> Stitch | None:
    """The stitch with this name in the maker's terms; None if there is none."""
    return next((s for s in Stitch if stitch_name(s, terms) == f"{name} crochet"), None)
