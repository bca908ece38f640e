"""Which of the commands asked about an answer picks."""

from __future__ import annotations

from pattern import commands as c
from pattern.lengths import Amount


def picked(asked: tuple[c.Command, ...], said: c.Command) -> c.Command | None:
    """The asked command that an answer picks by yes, no, its number or itself; None for none.

    "No, forty" may also put the right number into what was asked.
    """
    match said:
        case c.Yes():
            return asked[0]
        case c.No(None):
            return asked[1] if len(asked) > 1 else None
        case c.No(amount) if amount is not None:
            return _numbered(asked, amount) or _corrected(asked[0], amount)
        case c.Answer(amount) | c.Measured(amount, _, _) if said not in asked:
            return _numbered(asked, amount)
    return said if said in asked else None


def _numbered(asked: tuple[c.Command, ...], amount: Amount) -> c.Command | None:
    """The command asked about that holds this number."""
    return next((each for each in asked if _number(each) == amount.value), None)


def _corrected(asked: c.Command, amount: Amount) -> c.Command:
    """The command asked about with another number; where it has none, the number alone."""
    whole = amount.whole()
    match asked:
        case c.Measured(_, kind, stitches):
            return c.Measured(amount, kind, stitches)
        case c.Counted() if whole is not None:
            return c.Counted(whole)
        case c.Sets(_, more) if whole is not None:
            return c.Sets(whole, more)
        case c.RippedBack() if whole is not None:
            return c.RippedBack(whole)
    return c.Answer(amount)


def _number(command: c.Command) -> float | None:
    amount = getattr(command, "amount", None)
    if amount is not None:
        return float(amount.value)
    for name in ("count", "rounds"):
        if isinstance(value := getattr(command, name, None), int):
            return float(value)
    return None
