"""Moments of a piece at which something may be said: the session as it stands and the real cloth.

Simulated makers work whole hats; the session never sees their hands, only what they said before.
"""

from __future__ import annotations

import copy
import random
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.events import Begun
from pattern.session.folding import fold
from pattern.session.state import FINISHING_STEPS, State
from pattern.shape.interview import QUESTIONS
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Unit
from tests.bench.calling import Work
from tests.bench.makers import Maker, Tape
from tests.openings import opening


@dataclass(frozen=True, slots=True, eq=False)
class Moment:
    """Where a session stands, and the cloth in the maker's hands."""

    state: State
    work: Work


def moments(seed: int, makers: int) -> list[Moment]:
    """Every moment of the hats of so many makers, with interview, pauses and doubts."""
    return [
        moment
        for number in range(makers)
        for moment in _moments_of(Maker(random.Random(f"{seed} says {number}")))
    ]


def working(seed: int, makers: int) -> list[Moment]:
    """Those moments of them in which a round is offered and nothing is in doubt."""
    return [
        m
        for m in moments(seed, makers)
        if m.state.offered is not None and m.state.doubt is None and not m.state.paused
    ]


def _moments_of(maker: Maker) -> Iterator[Moment]:
    yield from _interview(maker)
    answers = {
        "unit": unit_of(maker).value,
        "head_mm": maker.head_mm,
        "yarn": maker.yarn,
        "hook_mm": maker.hook_mm,
    }
    state, work = fold(State(), opening(State(), answers)), Work(maker)
    while state.stage is not Stage.FINISHING:
        yield from _around(state, work)
        if state.want is not None or state.doubt is not None:
            state = after(state, work.answer(state))
        else:
            work.round(state)
            state = after(state, c.Next())
    for _ in FINISHING_STEPS:
        yield Moment(state, work)
        state = after(state, c.Next())


def _interview(maker: Maker) -> Iterator[Moment]:
    """Each question while it is open; those before it were left to the usual."""
    state = fold(State(), (Begun(),))
    if unit_of(maker) is Unit.CM:
        state = after(state, c.Choose("unit", Unit.CM.value))
    state = after(state, c.EveryQuestion())
    for _ in QUESTIONS:
        if state.question is not None:
            yield Moment(state, Work(maker))
            state = after(state, c.Skip())


def _around(state: State, work: Work) -> Iterator[Moment]:
    """The moment itself; within its round; in a doubt about a reading; in a pause."""
    here = copy.copy(work)
    yield Moment(state, here)
    if state.offered is not None and state.offered.sets > 1 and state.want is None:
        yield Moment(after(state, c.Sets(state.offered.sets // 2)), here)
    if state.doubt is None and state.want is None and state.piece.finished % 7 == 5:
        odd = c.Counted(state.piece.stitches + 9)
        yield Moment(after(state, odd), here)
        yield Moment(after(state, c.Pause()), here)


def after(state: State, command: c.Command) -> State:
    """The state after a command that makes sense in it. Raises: Refused."""
    return fold(state, turn) if (turn := decide(state, command)) else state


def unit_of(maker: Maker) -> Unit:
    """The unit that the maker chooses: a tape in millimetres is read in centimetres."""
    return Unit.CM if maker.tape is Tape.MILLIMETRES else Unit.INCH


def tape_words(maker: Maker, true_mm: float) -> tuple[Fraction, Unit]:
    """What the maker reads off a tape, as a number of the unit that is said."""
    amount = maker.read(true_mm)
    parts = round(amount.value * 16)
    if unit_of(maker) is Unit.CM:
        return Fraction(round(amount.value), 10), Unit.CM
    return Fraction(parts, 16), Unit.INCH
