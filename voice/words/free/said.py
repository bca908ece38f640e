"""Free words as they were said, and the meaning that they are matched to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from pattern.session import commands as c
from pattern.session.state import State
from pattern.trade.lengths import Amount


@dataclass(frozen=True, slots=True)
class Said:
    """A wording, and the amounts in it."""

    text: str
    words: str
    """The same, plain."""
    amounts: tuple[Amount, ...]
    state: State

    @property
    def amount(self) -> Amount | None:
        """The last amount, which is the one that counts after a slip of the tongue."""
        return self.amounts[-1] if self.amounts else None

    @property
    def whole(self) -> int | None:
        """The last amount as a count; None where there is none."""
        return self.amount.whole() if self.amount is not None else None


Build = Callable[[Said], c.Command | None]


@dataclass(frozen=True, slots=True)
class Meaning:
    """One thing that can be meant."""

    build: Build
    """The command, or None where what it needs was not said."""
    noun: str = ""
    """How it is offered to who was not understood: "I can ..."."""
