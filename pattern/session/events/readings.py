"""Events of the tape, the eye and the scales, and of what is doubted."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.plan.readings import Reading
from pattern.session.commands import Kind, Look
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Unit


@dataclass(frozen=True, slots=True)
class ReadingWanted:
    """A reading was asked for."""

    kind: Kind
    stitches: int | None = None


@dataclass(frozen=True, slots=True)
class ReadingSkipped:
    """The maker left the reading out."""


@dataclass(frozen=True, slots=True)
class ReadingDoubted:
    """A reading far from what was expected was read back."""

    reading: Reading
    expected_mm: float
    unit: Unit | None = None
    """The unit that was said with it, which becomes the maker's own when the reading is kept."""


@dataclass(frozen=True, slots=True)
class ReadingTaken:
    """A reading was believed."""

    reading: Reading


@dataclass(frozen=True, slots=True)
class CountDoubted:
    """A count far from what the round should have was read back."""

    count: int


@dataclass(frozen=True, slots=True)
class CountTaken:
    """The last finished round has so many stitches."""

    count: int


@dataclass(frozen=True, slots=True)
class FinishDoubted:
    """To finish was asked with rounds still planned."""


@dataclass(frozen=True, slots=True)
class StartDoubted:
    """The next part was to begin where it would be much too narrow, and that was asked about."""

    stage: Stage


@dataclass(frozen=True, slots=True)
class DoubtDropped:
    """The doubted reading, count or wish was dropped."""


@dataclass(frozen=True, slots=True)
class LookTaken:
    """The maker said how the fabric lies."""

    look: Look


@dataclass(frozen=True, slots=True)
class YarnWeighed:
    """So much yarn was there when so many stitches were worked; see Weighing."""

    grams: float
    stitches: int
    fresh: bool


@dataclass(frozen=True, slots=True)
class TensionChanged:
    """The maker said that the stitches come out another size now."""


@dataclass(frozen=True, slots=True)
class MakerChanged:
    """Somebody else works from here on."""


@dataclass(frozen=True, slots=True)
class LeftAlone:
    """The piece was taken up again after so long that the hands may have changed."""

    days: float
