"""Commands about the rounds as they are worked."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.trade.lengths import Amount


@dataclass(frozen=True, slots=True)
class Next:
    """The offered round, or step, is done."""


@dataclass(frozen=True, slots=True)
class GoOn:
    """Go on: after a pause, or with the next round or step."""


@dataclass(frozen=True, slots=True)
class Back:
    """One step back: a repeat in the round, or the last round is offered again."""


@dataclass(frozen=True, slots=True)
class Sets:
    """Repeats worked in this round: in all, or so many more."""

    count: int
    more: bool = False


@dataclass(frozen=True, slots=True)
class RippedBack:
    """So many rounds were taken out."""

    rounds: int


@dataclass(frozen=True, slots=True)
class Undo:
    """Take back the last thing said that changed something."""


@dataclass(frozen=True, slots=True)
class StartSides:
    """Stop increasing now."""


@dataclass(frozen=True, slots=True)
class StartBrim:
    """The sides are deep enough."""


@dataclass(frozen=True, slots=True)
class StartNext:
    """The part in work is long or wide enough: go on with the next one."""


@dataclass(frozen=True, slots=True)
class FinishNow:
    """End the piece here."""


@dataclass(frozen=True, slots=True)
class Another:
    """One more of the same sort is begun: of another size, or of yarn of another class."""

    amount: Amount | None = None
    yarn: int | None = None


@dataclass(frozen=True, slots=True)
class OtherHands:
    """Somebody else works from here on."""


@dataclass(frozen=True, slots=True)
class NewBall:
    """A ball is at its end, and the next one begins."""


@dataclass(frozen=True, slots=True)
class Tension:
    """The maker works tighter or looser than before."""
