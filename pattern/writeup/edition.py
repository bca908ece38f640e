"""How a pattern is printed, and what goes into it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from pattern.writeup.document import Figure
from pattern.writeup.drawing import LARGE, REGULAR, Letters, Picture


@dataclass(frozen=True, slots=True)
class Edition:
    """The choices of whoever prints a pattern."""

    letters: Letters = REGULAR
    readings: bool = False
    """With the appendix on how the gauge was learned."""
    as_worked: bool = False
    """With slips where they were made, and with the maker's notes."""


USUAL = Edition()
"""Regular print, and the pattern alone."""


def figure(draw: Callable[[Letters], Picture], letters: Letters) -> Figure:
    """A drawing in the print of the page; regular print has one for narrow screens too."""
    return Figure(draw(letters), draw(LARGE) if letters is REGULAR else None)
