"""Commands in which a number was said: one of those that are misheard most."""

from __future__ import annotations

from dataclasses import fields

from pattern.session.commands import Command
from pattern.trade.lengths import Amount


def tells_a_number(command: Command) -> bool:
    """Whether a number was said in it."""
    values = (getattr(command, field.name) for field in fields(command))
    return any(isinstance(value, Amount | int | float) for value in values)
