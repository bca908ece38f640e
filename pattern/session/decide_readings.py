"""Readings, counts and what is done when they are not what they should be."""

from __future__ import annotations

from dataclasses import replace

from pattern.plan.asking import ASKED_IN_ALL, FIT_TOLERANCE_MM
from pattern.plan.counting import slip_allowed
from pattern.plan.crown import crown_target
from pattern.plan.part_rules import ends_by_stitches
from pattern.plan.readings import Reading, Want, doubtful, expected, girth_finished
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.bare_number import absurd, reading_meant
from pattern.session.commands import Kind
from pattern.session.refusals import Reason, Refused
from pattern.session.spoken_units import remembered
from pattern.session.state import Doubt, State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import TAPE_UNITS

SETS_BETWEEN = 4
"""Near the end of the crown it is measured after every three or four repeats: common practice."""


def measured(
    state: State, command: c.Measured, first: Reading | None = None
) -> tuple[e.Event, ...]:
    """The events of a reading: taken, or read back when it is hard to believe.

    `first` is what was read before, where the maker looked again.

    Raises: Refused when it cannot be a reading of this piece now.
    """
    amount, unit = command.amount, state.settings.unit
    if state.doubt is not None and state.doubt.unit is not None and amount.unit is None:
        amount = replace(amount, unit=state.doubt.unit)
    if state.stage is Stage.SETUP:
        raise Refused(Reason.STILL_SETUP, state.stage, command)
    if amount.unit is not None and amount.unit not in TAPE_UNITS:
        raise Refused(Reason.WRONG_UNIT, state.stage, command, {"unit": amount.unit.value})
    if amount.value <= 0:
        raise Refused(Reason.NOT_A_LENGTH, state.stage, command)
    reading = reading_meant(state, replace(command, amount=amount))
    hoped = expected(state.piece, reading).mean
    if absurd(state, reading):
        raise Refused(Reason.ABSURD, state.stage, command, {"expected_mm": hoped})
    units = remembered(state, amount, unit)
    if doubtful(state.piece, reading, first) or (not first and _shrunk(state, reading)):
        return (e.ReadingDoubted(reading, hoped, amount.unit if units else None),)
    return (*units, e.ReadingTaken(reading))


def _shrunk(state: State, reading: Reading) -> bool:
    """Whether an earlier reading of the same kind, of less of the piece, was clearly larger."""
    if reading.kind is Kind.ALONG:
        return False
    slack = 2 * reading.step_mm + 3
    return any(
        taken.reading.kind is reading.kind
        and taken.reading.rounds <= reading.rounds
        and taken.reading.stitches <= reading.stitches
        and taken.reading.value_mm > reading.value_mm + slack
        for taken in state.readings_taken()
    )


def again(state: State, doubted: Doubt | Reading | int, command: c.No) -> tuple[e.Event, ...]:
    """The events of the right value for what was misheard or mistaken."""
    if command.amount is None:
        return ()
    reading = doubted.reading if isinstance(doubted, Doubt) else doubted
    count = doubted.count if isinstance(doubted, Doubt) else doubted
    if isinstance(reading, Reading):
        stitches = reading.stitches if reading.kind is Kind.ALONG else None
        first = reading if isinstance(doubted, Doubt) else None
        return measured(state, c.Measured(command.amount, reading.kind, stitches), first)
    if isinstance(count, int) and (whole := command.amount.whole()) is not None:
        return counted(state, c.Counted(whole))
    raise Refused(Reason.WRONG_ANSWER, state.stage, command, {"key": "count"})


def counted(state: State, command: c.Counted) -> tuple[e.Event, ...]:
    """The events of a count of the last finished round.

    A slip of a few stitches is taken into the next round; a larger one is read back first.

    Raises: Refused when no round could have that count.
    """
    made, piece = state.made, state.piece
    if made is None:
        raise Refused(Reason.TOO_EARLY, state.stage, command)
    before = made.round.before or made.round.after
    if not before // 2 <= command.count <= 2 * before or command.count < 3:
        detail = {"least": max(before // 2, 3), "most": 2 * before}
        raise Refused(Reason.COUNT_IMPOSSIBLE, state.stage, command, detail)
    if abs(command.count - piece.stitches) > slip_allowed(piece.stitches):
        return (e.CountDoubted(command.count),)
    return (e.CountTaken(command.count),)


def rechecked(state: State) -> Want | None:
    """A reading of the edge, when it shows the stitches of other hands or another hook."""
    due = 0 < state.recheck <= state.piece.finished
    return Want(Kind.AROUND) if due and not state.piece.shaping.flared else None


def wanted_within(state: State) -> Want | None:
    """A reading worth taking within a crown round: near the end, after every few repeats."""
    offered, piece = state.offered, state.piece
    if offered is None or not ends_by_stitches(piece, offered):
        return None
    if not 0 < state.sets < offered.sets or state.sets % SETS_BETWEEN:
        return None
    near = crown_target(piece) - piece.stitches <= 2 * piece.settings.increases
    unsure = 2 * girth_finished(piece).sd > FIT_TOLERANCE_MM
    if near and unsure and state.asks_in_all < ASKED_IN_ALL:
        return Want(Kind.CORNERS if piece.settings.stacked else Kind.ACROSS)
    return None
