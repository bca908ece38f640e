"""Decisions about the gauge apart from the piece: a swatch, before and after washing."""

from __future__ import annotations

from pattern.gauge import swatch
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.bare_number import ABSURD, finest_step_mm
from pattern.session.folding import Turn, Unfolding, unfolding
from pattern.session.next_offer import offered_after
from pattern.session.refusals import Reason, Refused
from pattern.session.spoken_units import remembered
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import TAPE_UNITS

FEWEST, MOST = 4, 200
"""Stitches or rounds that a swatch may span; our choice: fewer say nothing."""


def swatched(state: State, command: c.Swatch) -> Unfolding:
    """The turn of a swatch, see swatch_events. Raises: Refused."""
    return offered_after(unfolding(state, *swatch_events(state, command)))


def swatch_events(state: State, command: c.Swatch) -> Turn:
    """The events of a swatch: the gauge learns, and, of one washed, what washing does.

    Raises: Refused for what no swatch of this yarn can measure, or when the rounds are done.
    """
    amount = command.amount
    if state.stage in {Stage.FINISHING, Stage.DONE}:
        raise Refused(Reason.NOT_HERE, state.stage, command)
    if amount.unit is not None and amount.unit not in TAPE_UNITS:
        raise Refused(Reason.WRONG_UNIT, state.stage, command, {"unit": amount.unit.value})
    length_mm = amount.mm(state.settings.unit)
    gauge = state.piece.gauge
    hoped = command.count * (gauge.height_mm if command.by_rounds else gauge.width_mm)
    if not FEWEST <= command.count <= MOST or not hoped / ABSURD < length_mm < hoped * ABSURD:
        detail = {"least": FEWEST, "most": MOST}
        raise Refused(Reason.ODD_SWATCH, state.stage, command, detail)
    taken = e.SwatchTaken(
        command.count, length_mm, finest_step_mm(state, amount), command.by_rounds, command.washed
    )
    turn: Turn = (*remembered(state, amount, state.settings.unit), *_washing(state, command, taken))
    return (*turn, taken)


def _washing(state: State, command: c.Swatch, taken: e.SwatchTaken) -> Turn:
    ratio = swatch.washed_ratio(taken, state.swatches)
    if ratio is None:
        return ()
    if not swatch.LEAST_RATIO <= ratio <= swatch.MOST_RATIO:
        raise Refused(Reason.ODD_WASHING, state.stage, command)
    now = state.washing or swatch.Washing()
    if taken.rounds:
        return (e.WashingKnown(now.width, ratio),)
    return (e.WashingKnown(ratio, now.height),)
