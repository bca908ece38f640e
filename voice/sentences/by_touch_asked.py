"""Questions on readings by touch, before they are taken."""

from __future__ import annotations

from typing import Any

from pattern.session.commands import Kind, OwnUnit
from pattern.session.state import State
from pattern.trade.lengths import Amount
from voice.sentences import fits
from voice.sentences.amounts import decimal, with_unit

PLACES = {
    Kind.ACROSS: "across",
    Kind.AROUND: "around",
    Kind.DEPTH: "deep",
    Kind.BRIM: "of brim",
    Kind.CORNERS: "across the corners",
}


def string_off(command: Any, state: State) -> str:  # noqa: ANN401 - by the table of questions
    """How far the string is off, and what that means for the edge."""
    if not command.amount.value:
        return "the string just meets: the edge is as big as the head"
    by = _amount(command.amount, command.unit, state)
    way, edge = ("long", "smaller") if command.too_long else ("short", "bigger")
    return f"the string is {by} too {way}: the edge is {edge} than the head"


def by_hand(command: Any, state: State) -> str:  # noqa: ANN401
    """The length, with its place or the word of trying on."""
    by = _amount(command.amount, command.unit, state)
    where = fits.said(command.fit) if command.fit is not None else PLACES.get(command.kind, "")
    return f"{by} {where}".strip()


def _amount(amount: Amount, unit: OwnUnit | None, state: State) -> str:
    if unit is None:
        return with_unit(amount.mm(state.settings.unit), state.settings)
    if amount.value == 0.5:
        return f"half a {unit.value}"
    return f"{decimal(amount.value)} {unit.value}{'' if amount.value == 1 else 's'}"
