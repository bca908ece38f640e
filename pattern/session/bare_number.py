"""A number said or typed alone: the one place that tells what it stands for, and the reading that a
length is.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from pattern.plan.part_rules import RULES
from pattern.plan.readings import Reading, doubtful, expected, reading_of
from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.session.refusals import Reason, Refused
from pattern.session.state import State
from pattern.shape.reading_kinds import BY_TAPE
from pattern.shape.rounds import Stage
from pattern.trade.lengths import TAPE_UNITS, WEIGHT_UNITS, Amount

ABSURD = 4.0
"""A reading so many times the expected, or less than its inverse, is no reading of this piece."""
COARSEST_STEP = {"inch": 0.5, "centimeter": 1.0, "millimeter": 5.0}
"""A whole number is read to this at the worst; a finer step, once said, is the maker's."""
_FINISHED = frozenset({Kind.AROUND, Kind.ALONG, Kind.BRIM}), Kind.BRIM
"""Readings that a piece takes whose rounds are done, and which of them a bare length is."""


def meant(state: State, command: c.Command) -> c.Command:
    """The command that does the same in this state and says what it does.

    A number alone answers the doubt or question that is open. Else a weight is that of the yarn
    left, and a length the reading that is wanted.
    """
    match command:
        case c.Answer(amount) if state.doubt is None and state.question is None:
            if amount.unit in WEIGHT_UNITS:
                return c.Weighed(amount)
            return _as_wanted(state, amount) or command
        case c.Measured(amount, None, None) if state.doubt is None:
            return _as_wanted(state, amount) or command
        case c.Change(key, amount) if key == state.question != "ease_mm":
            return c.Answer(amount)
    return command


def _as_wanted(state: State, amount: Amount) -> c.Measured | None:
    """A length as the reading that is wanted, or as the one that it can only be; None for none."""
    want = state.want
    if want is None or want.kind is Kind.LOOK:
        return None
    wanted = c.Measured(amount, BY_TAPE.get(want.kind, want.kind), want.stitches)
    if amount.unit is not None and amount.unit not in TAPE_UNITS:
        return wanted  # a length of yarn, which is refused as a reading
    try:
        kind = reading_meant(state, c.Measured(amount)).kind
    except Refused:
        return wanted
    return wanted if kind is wanted.kind else c.Measured(amount, kind)


def reading_meant(state: State, command: c.Measured) -> Reading:
    """The reading that a length is: of the kind said, else wanted, else usual at this stage.

    Where its kind was not said and it cannot be that, it is what it can be.

    Raises: Refused where it cannot be a reading of this piece now.
    """
    kind, stitches = _kind_meant(state, command)
    reading = _reading(state, command.amount, kind, stitches, by_touch=command.by_touch)
    if command.kind is None and absurd(state, reading):
        others = _other_readings(state, command.amount)
        return next((other for other in others if not doubtful(state.piece, other)), reading)
    return reading


def _reading(
    state: State,
    amount: Amount,
    kind: Kind,
    stitches: int | None,
    *,
    by_touch: bool = False,
) -> Reading:
    """The reading, with the sets that are worked in the offered round."""
    if kind is Kind.AROUND and state.sets and state.offered is not None:
        stitches = state.piece.stitches + state.sets
    unit = state.settings.unit
    step_mm = amount.step_mm(unit) if by_touch else finest_step_mm(state, amount)
    return reading_of(
        state.piece, kind, amount.mm(state.settings.unit), step_mm, _part(state), stitches=stitches
    )


def _other_readings(state: State, amount: Amount) -> Iterator[Reading]:
    """Other readings that a length may be, when it cannot be the one thought of first."""
    if state.piece.in_ring:
        return
    for kind in (Kind.AROUND, Kind.ACROSS, Kind.DEPTH):
        if kind in RULES[state.piece.stage].sensible:
            yield _reading(state, amount, kind, None)


def absurd(state: State, reading: Reading) -> bool:
    """Whether a reading is none of this piece."""
    hoped = expected(state.piece, reading).mean
    return not hoped / ABSURD < reading.value_mm < hoped * ABSURD


def _kind_meant(state: State, command: c.Measured) -> tuple[Kind, int | None]:
    """The kind of reading that was meant, and the stitches it spans where that was said."""
    piece, stage = state.piece, state.stage
    kind = command.kind
    stitches = command.stitches
    if kind is None and state.want is not None and state.want.kind is not Kind.LOOK:
        kind = BY_TAPE.get(state.want.kind, state.want.kind)
        stitches = state.want.stitches
    sensible, usual = _taken_here(state)
    if kind is None:
        kind = usual or (Kind.CORNERS if state.settings.stacked else Kind.ACROSS)
    if not sensible or (kind is Kind.BRIM and not piece.brim_rounds):
        raise Refused(Reason.TOO_EARLY, stage, command)
    if kind not in sensible:
        raise Refused(Reason.NOT_HERE, stage, command)
    if stitches is not None and not 0 < stitches <= piece.stitches:
        raise Refused(Reason.COUNT_IMPOSSIBLE, stage, command, {"most": piece.stitches})
    return kind, stitches


def _taken_here(state: State) -> tuple[Collection[Kind], Kind | None]:
    """Readings that make sense here, none before the ring, and which of them a bare length is."""
    piece = state.piece
    if state.stage in {Stage.FINISHING, Stage.DONE}:
        return _FINISHED
    if not piece.finished and not state.sets:
        return frozenset(), None
    rules = RULES[piece.stretches[0].stage if piece.in_ring else piece.stage]
    return rules.sensible, rules.usual


def _part(state: State) -> float:
    """How far the offered round is worked, 0 to 1."""
    offered = state.offered
    return offered.worked_after(state.sets) / offered.before if offered and offered.before else 0.0


def finest_step_mm(state: State, amount: Amount) -> float:
    """How finely the maker reads: the finest step of any reading so far, this one included."""
    unit = amount.unit or state.settings.unit
    coarsest = Amount(COARSEST_STEP[unit.value], unit=unit).mm(unit)
    steps = [taken.reading.step_mm for taken in state.readings_taken() if taken.reading.by_tape]
    return min([amount.step_mm(unit), coarsest, *steps])
