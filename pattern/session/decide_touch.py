"""Decides on what is measured by touch: each is the reading that a tape would have given."""

from __future__ import annotations

from collections.abc import Callable

from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.decide_fits import tried_on
from pattern.session.decide_work import measured
from pattern.session.folding import Decided, Turn
from pattern.session.next_offer import refused
from pattern.session.refusals import Reason, Refused
from pattern.session.state import State
from pattern.shape.reading_kinds import Kind
from pattern.trade.lengths import TAPE_UNITS, Amount, Unit
from pattern.trade.own_units import LIMITS_MM, OwnUnit

STRETCHES_MM = 10.0
"""A string laid by hand is told no more finely than to so many mm: half a finger. Common practice,
no source."""


def own_width(state: State, command: c.OwnWidth) -> Turn:
    """The width of a finger or hand. Raises: Refused for one that none has."""
    amount, (least, most) = command.amount, LIMITS_MM[command.unit]
    if amount.unit is not None and amount.unit not in TAPE_UNITS:
        raise refused(state, command, Reason.WRONG_UNIT, unit=amount.unit.value)
    width_mm = amount.mm(state.settings.unit)
    if not least <= width_mm <= most:
        what = command.unit.value
        raise refused(state, command, Reason.OWN_WIDTH, what=what, least=least, most=most)
    return (e.OwnWidthKnown(command.unit, width_mm),)


def string_off(state: State, command: c.StringOff) -> Decided:
    """A reading around the edge against the head that the string was cut to.

    Raises: Refused for a piece that is for no head, and as any reading is.
    """
    if not state.settings.shape.for_head:
        raise refused(state, command, Reason.NOT_OF_SHAPE, key="head_mm")
    if command.amount.unit is not None and command.amount.unit not in TAPE_UNITS:
        raise refused(state, command, Reason.WRONG_UNIT, unit=command.amount.unit.value)
    off = _in_mm(state, command.amount, command.unit)
    head_mm = state.settings.girth_mm - state.settings.ease_mm
    value_mm = head_mm - off.value if command.too_long else head_mm + off.value
    step_mm = max(off.step, STRETCHES_MM)
    reading = c.Measured(Amount(value_mm, step_mm, Unit.MM), Kind.AROUND, by_touch=True)
    return _named(command, lambda: measured(state, reading))


def by_hand(state: State, command: c.ByHand) -> Decided:
    """A reading, or a word of trying on, told in fingers. Raises: Refused as those are."""
    length = _in_mm(state, command.amount, command.unit)
    if (fit := command.fit) is not None:
        return _named(command, lambda: tried_on(state, c.TriedOn(fit, length)))
    reading = c.Measured(length, command.kind, by_touch=True)
    return _named(command, lambda: measured(state, reading))


def _named(command: c.Command, decide: Callable[[], Decided]) -> Decided:
    """The turn, or the refusal of what was said and not of the reading that it is."""
    try:
        return decide()
    except Refused as refusal:
        raise Refused(refusal.reason, refusal.stage, command, refusal.detail) from None


def _in_mm(state: State, amount: Amount, unit: OwnUnit | None) -> Amount:
    """The amount in mm; widths of the hand are counted to half of one at the best."""
    if unit is None:
        own = state.settings.unit
        return Amount(amount.mm(own), amount.step_mm(own), Unit.MM)
    width_mm = state.own.of(unit)
    return Amount(amount.value * width_mm, max(amount.step, 0.5) * width_mm, Unit.MM)
