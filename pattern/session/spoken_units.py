"""Converts spoken amounts to the unit of their setting."""

from __future__ import annotations

from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.refusals import Reason, Refused
from pattern.session.state import State
from pattern.shape.limits import IN_GRAMS, LIMITS
from pattern.trade.lengths import BALL_UNITS, TAPE_UNITS, WEIGHT_UNITS, Amount, Unit, grams, metres


def in_own_unit(state: State, command: c.Command, key: str, amount: Amount) -> float:
    """The amount in the own unit of a setting that is not a tape length. Raises: Refused."""
    if key in IN_GRAMS and amount.unit in WEIGHT_UNITS:
        return grams(amount)
    if key == "ball_m" and amount.unit in BALL_UNITS:
        return metres(amount)
    return in_mm(state, command, key, amount)


def in_mm(
    state: State, command: c.Command, key: str, amount: Amount, unit: Unit = Unit.MM
) -> float:
    """The amount in mm; `unit` is the unit when none was said. Raises: Refused."""
    length = LIMITS[key].tape or key == "hook_mm"
    if amount.unit is not None and not (length and amount.unit in TAPE_UNITS):
        detail = {"unit": amount.unit.value, "key": key}
        raise Refused(Reason.WRONG_UNIT, state.stage, command, detail)
    return amount.mm(unit)


def plausible_unit(state: State, command: c.Command, amount: Amount) -> Unit:
    """The one unit in which a bare number can be a head.

    Raises: Refused when none, or both, are possible and the maker's own is not.
    """
    limits = LIMITS["head_mm"]
    units = [
        unit
        for unit in (Unit.INCH, Unit.CM, Unit.MM)
        if limits.least <= amount.mm(unit) <= limits.most
    ]
    own = state.settings.unit
    if own in units or not units:
        return own
    raise Refused(
        Reason.OTHER_UNIT, state.stage, command, {"value": amount.value, "unit": units[0].value}
    )


def remembered(state: State, amount: Amount, default: Unit) -> tuple[e.Event, ...]:
    """The event that a unit said once becomes the maker's own."""
    unit = amount.unit or default
    if unit is state.settings.unit or unit not in TAPE_UNITS:
        return ()
    return (e.QuestionAnswered("unit", unit.value),)
