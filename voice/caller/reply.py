"""The reply to words, and the verdict on them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from pattern.session.commands import Command, Leave
from pattern.session.events import Event
from pattern.session.refusals import Refused
from pattern.session.state import State


class Verdict(StrEnum):
    """The verdict on something said."""

    DONE = "done"
    ASKED = "asked"
    """A yes or no is wanted first."""
    REFUSED = "refused"
    """It makes no sense here, or was not understood."""


@dataclass(frozen=True, slots=True)
class Reply:
    """A reply, and the session that it is said in."""

    say: str
    state: State
    command: Command | None = None
    """The command that was understood; None when nothing was."""
    events: tuple[Event, ...] = ()
    refused: Refused | None = None
    asks: Command | None = None
    """The command that is asked about before it is done: free wording may mean it."""
    unheard: bool = False
    """Whether nothing was done, as it was not understood or the disk refused."""
    finished: bool = False
    """Whether the piece became done by this; what is said of a done one leaves it so."""
    replaced: bool = False
    """Whether the file of the piece was taken away, and all is kept in another."""

    @property
    def verdict(self) -> Verdict:
        """Whether it was done, is asked about, or was refused; the opening is done."""
        if self.asks is not None:
            return Verdict.ASKED
        if self.refused is not None or self.unheard:
            return Verdict.REFUSED
        return Verdict.ASKED if self.events and self.state.doubt is not None else Verdict.DONE

    @property
    def ends(self) -> bool:
        """Whether the call is over: the maker leaves, or the file of the piece was replaced."""
        return self.replaced or isinstance(self.command, Leave)
