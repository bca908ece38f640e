"""Events of decorating; the rounds stay as they are."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.trade.decorations import Decoration


@dataclass(frozen=True, slots=True)
class DecorationCalled:
    """A step of a decoration is called now, counted from 0."""

    what: Decoration
    step: int


@dataclass(frozen=True, slots=True)
class DecorationEnded:
    """No decoration is called any more: the piece is."""
