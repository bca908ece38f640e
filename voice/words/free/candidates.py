"""Meanings that a wording may have."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from pattern.session import commands as c
from pattern.session.folding import Turn


@dataclass(frozen=True, slots=True)
class Candidate:
    """A meaning with its chance, and what it would do here."""

    name: str
    chance: float
    command: c.Command
    turn: Turn | None
    """The command that it would give; None if the session refuses it."""
    answers: bool = False
    """Whether it answers the open question of the interview."""

    @property
    def refused(self) -> bool:
        """Whether it makes no sense here."""
        return self.turn is None


def pooled(candidates: Iterable[Candidate]) -> list[Candidate]:
    """Meanings that come to the same here are one, as likely as all of them."""
    found: list[Candidate] = []
    for one in candidates:
        same = (at for at, other in enumerate(found) if one.turn and one.turn == other.turn)
        if (at := next(same, None)) is None:
            found.append(one)
        else:
            found[at] = replace(found[at], chance=found[at].chance + one.chance)
    return found
