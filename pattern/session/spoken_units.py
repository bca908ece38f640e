"""Converts spoken amounts to the unit of their setting."""

from __future__ import annotations

from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.refusals import Reason, Refused
from pattern.session.state import State
from pattern.shape.limits import IN_GRAMS, LIMITS
from pattern.shape.rounds import Stage
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

    Raises: Refused when it can be one in another than the unit that the maker has said.
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
    if "unit" not in state.answered:
        return units[0]
    raise Refused(
        Reason.OTHER_UNIT, state.stage, command, {"value": amount.value, "unit": units[0].value}
    )


def remembered(
    state: State, amount: Amount, default: Unit, *, tells: bool = False
) -> tuple[e.Event, ...]:
    """The event that a unit said once becomes the maker's own.

    In the interview that answers the question of the unit. With `tells`, a bare number makes sense
    in the default unit alone, and tells it as well.
    """
    unit = amount.unit or default
    asked = state.stage is Stage.SETUP and "unit" not in state.answered
    answers = asked and (tells or amount.unit is not None)
    if unit not in TAPE_UNITS or (unit is state.settings.unit and not answers):
        return ()
    return (e.QuestionAnswered("unit", unit.value),)
