"""The right number, in place of the one that was asked about."""

from __future__ import annotations

from dataclasses import replace

from pattern.session import commands as c
from pattern.trade.lengths import Amount


def corrected(asked: c.Command, amount: Amount) -> c.Command | None:
    """The command with this number; None where it has none, or not such a number."""
    match asked:
        case c.Measured() | c.Answer() | c.Change() | c.Adjust() | c.Weighed() | c.HaveBalls():
            unit = amount.unit or asked.amount.unit
            return replace(asked, amount=replace(amount, unit=unit))
        case c.Counted() | c.Sets() if (count := amount.whole()) is not None:
            return replace(asked, count=count)
        case c.RippedBack() if (rounds := amount.whole()) is not None:
            return c.RippedBack(rounds)
    return None
