"""Commands that report what the tape, the eye or the scales say."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from pattern.shape.reading_kinds import Kind, Look
from pattern.trade.lengths import Amount


@dataclass(frozen=True, slots=True)
class Measured:
    """A reading from the tape; without a kind, the one that the stage makes likely."""

    amount: Amount
    kind: Kind | None = None
    stitches: int | None = None
    """How many stitches lie in the length, for a reading along the edge."""
    by_touch: bool = False
    """Told in fingers, or by a string, and no more finely than it says."""


@dataclass(frozen=True, slots=True)
class Swatch:
    """Stitches, or rounds, measured on a swatch, before or after it was washed."""

    count: int
    amount: Amount
    by_rounds: bool = False
    washed: bool = False


@dataclass(frozen=True, slots=True)
class Lies:
    """How the fabric lies."""

    look: Look


class Cloth(StrEnum):
    """A fault of the fabric that another hook would mend."""

    GAPS = "gaps"
    STIFF = "stiff"


@dataclass(frozen=True, slots=True)
class Fabric:
    """How the fabric feels; nothing changes by saying so, it is answered with advice."""

    cloth: Cloth


@dataclass(frozen=True, slots=True)
class Counted:
    """Stitches found in the last finished round."""

    count: int


@dataclass(frozen=True, slots=True)
class CountedIn:
    """Stitches found in the round in work, after so many of its sets where those were said."""

    count: int
    sets: int | None = None


@dataclass(frozen=True, slots=True)
class LostAt:
    """The place is lost: stitches seen in the round, or plain ones between its increases."""

    count: int
    between: bool = False


@dataclass(frozen=True, slots=True)
class Weighed:
    """Yarn that is left, from the scales."""

    amount: Amount


@dataclass(frozen=True, slots=True)
class HaveBalls:
    """Yarn that there is, in balls."""

    amount: Amount
