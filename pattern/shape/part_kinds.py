"""Kinds of part, one row each: how its text is written, its outline, and how its fabric lies."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from pattern.shape.geometry import Part, ball, brim, disc, dome, side, taper
from pattern.shape.rounds import Stage


class PartKind(StrEnum):
    """The kind of a part, by the way the meridian runs in it."""

    DISC = "disc"
    DOME = "dome"
    SIDE = "side"
    TAPER = "taper"
    BRIM = "brim"
    BALL = "ball"


class Asked(StrEnum):
    """Lengths that the maker is asked for."""

    DEPTH = "depth"
    """From the centre, along the cloth, to the end of the part."""
    HEIGHT = "height"
    """Of the part by itself."""
    BRIM = "brim"
    """Width of the brim."""


@dataclass(frozen=True, slots=True)
class Given:
    """Sizes that the geometry of a part follows from."""

    radius_mm: float
    """Where it begins."""
    end_mm: float
    """Radius at its end; of a ball, that of its middle."""
    length_mm: float | None
    """None where its shape gives none."""
    slope_deg: float | None
    """As its shape gives it."""
    brim_deg: float
    """Slope of the brim, as the maker chose it."""


@dataclass(frozen=True, slots=True)
class Shaping:
    """How the fabric of a stage lies; a part without any of these follows its profile."""

    flat: bool = False
    """A disc around the centre; its girth is that of a circle or polygon."""
    straight: bool = False
    """As wide all along: it is measured around and corrected until it fits."""
    tapers: bool = False
    """Straight from one girth to another."""
    flared: bool = False
    """It grows from an edge that stays as it is; one of no width is left out."""
    opens: bool = False
    """It widens from the centre to the edge that another part goes on from."""
    closed: bool = False
    """It ends as narrow as it began."""
    by_look: bool = False
    """Whether it lies flat tells how full it is."""

    @property
    def hangs(self) -> bool:
        """It is what comes down from the crown, so that its tension may be another."""
        return self.straight or self.tapers

    @property
    def goes_on(self) -> bool:
        """It has the girth of the part before, and none of its own."""
        return self.straight or self.flared


@dataclass(frozen=True, slots=True)
class KindOfPart:
    """A kind of part by itself; how it is worked is a row of pattern.plan.part_rules."""

    stage: Stage
    """The stage in which it is worked."""
    needs: frozenset[str]
    """Keys of its text."""
    geometry: Callable[[Given], Part]
    shaping: Shaping = Shaping()
    one_of: frozenset[str] = frozenset()
    """Keys of its text of which it needs just one."""
    asked: frozenset[Asked] = frozenset()
    """Words that may stand for its length."""
    steepest_deg: float = 180.0
    begins: bool = False
    """It can begin at a ring, and nowhere else."""
    ends: bool = False
    """Nothing can follow it."""


_TO_DEPTH = frozenset({Asked.DEPTH, Asked.HEIGHT})
KINDS: dict[PartKind, KindOfPart] = {
    PartKind.DISC: KindOfPart(
        Stage.CROWN,
        frozenset({"girth"}),
        lambda given: disc(given.end_mm),
        Shaping(flat=True, opens=True, by_look=True),
        begins=True,
    ),
    PartKind.DOME: KindOfPart(
        Stage.DOME,
        frozenset({"girth"}),
        lambda given: dome(given.end_mm),
        Shaping(opens=True),
        begins=True,
    ),
    PartKind.SIDE: KindOfPart(
        Stage.SIDES,
        frozenset({"length"}),
        lambda given: side(given.length_mm or 0.0),
        Shaping(straight=True),
        asked=_TO_DEPTH,
    ),
    PartKind.TAPER: KindOfPart(
        Stage.TAPER,
        frozenset({"girth"}),
        lambda given: taper(given.radius_mm, given.end_mm, given.length_mm, given.slope_deg),
        Shaping(tapers=True),
        one_of=frozenset({"length", "slope"}),
        asked=_TO_DEPTH,
    ),
    PartKind.BRIM: KindOfPart(
        Stage.BRIM,
        frozenset({"length", "slope"}),
        lambda given: brim(given.length_mm or 0.0, given.brim_deg),
        Shaping(flared=True, by_look=True),
        asked=frozenset({Asked.BRIM}),
        steepest_deg=85.0,
        ends=True,
    ),
    PartKind.BALL: KindOfPart(
        Stage.BALL,
        frozenset({"girth"}),
        lambda given: ball(given.end_mm),
        Shaping(closed=True),
        begins=True,
        ends=True,
    ),
}
SHAPING: dict[Stage, Shaping] = {
    Stage.RING: Shaping(flat=True),
    **{row.stage: row.shaping for row in KINDS.values()},
}
"""How the fabric of the ring and of each part lies, by stage."""
PART_STAGES = frozenset(row.stage for row in KINDS.values())
"""Stages in which a part is worked."""


def shaping(stage: Stage) -> Shaping:
    """How the fabric of the ring or a part lies. Raises: KeyError for any other stage."""
    return SHAPING[stage]
