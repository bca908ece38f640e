"""Commands of decorating: it is called step by step, beside the rounds."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.trade.decorations import Decoration


@dataclass(frozen=True, slots=True)
class Decorate:
    """Call the steps of a decoration, from its first."""

    what: Decoration


@dataclass(frozen=True, slots=True)
class Enough:
    """That will do: back from a decoration to the piece; in the interview it begins."""
