"""Builds a change of a size by an amount, or to one, from free words. Common usage, no source."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.trade.lengths import TAPE_UNITS, Amount
from voice.words.free.said import Build, Said

_BY = r"\b(?:by|more|extra|another|additional|less|off|further)\b"
_HALF = 0.5
"""Nobody wants so much of a size more or less in one go: such a number is the size. Our choice."""


def adjust(key: str, *, less: bool) -> Build:
    """Builds a change of a setting by an amount, more or less; or to it, where it is a whole size
    and nothing in the words says that it is a difference.
    """

    def build(said: Said) -> c.Command | None:
        if not _one(said):
            return None
        amount, settings = said.amount or Amount(1.0), said.state.settings
        now_mm = {"depth_mm": settings.depth, "brim_mm": settings.brim}.get(key, 0.0)
        whole = amount.unit in {None, *TAPE_UNITS} and amount.mm(settings.unit) > _HALF * now_mm > 0
        if whole and not re.search(_BY, said.words):
            return c.Change(key, amount)
        return c.Adjust(key, amount, less)

    return build


def _one(said: Said) -> bool:
    """Whether there is an amount, be it a bare one."""
    return said.amount is not None or bool(re.search(r"\bone\b", said.words))


def smaller(said: Said) -> c.Command | None:
    """A size smaller than the head, or bigger where the words say so."""
    amount = said.amount or (Amount(1.0) if _one(said) else None)
    if amount is None:
        return None
    bigger = re.search(r"\b(?:bigger|larger|wider|looser|roomier)\b", said.words) is not None
    value = amount.value if bigger else -amount.value
    return c.Change("ease_mm", Amount(value, amount.step, amount.unit))
