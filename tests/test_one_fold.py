"""A turn folds each of its events once, and the filter takes each reading once."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import AbstractContextManager, ExitStack
from dataclasses import dataclass, replace
from functools import partial, reduce
from typing import Any
from unittest.mock import patch

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.gauge import kalman, miscount
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session import folding
from pattern.session.decisions import decided
from pattern.session.folding import evolve, fold
from pattern.session.refusals import Refused
from pattern.session.state import State
from pattern.trade.lengths import Amount, Unit
from tests.pieces import COMMANDS
from voice.caller.caller import Caller
from voice.caller.keeping import Unkept


@dataclass
class Calls:
    """How often something was called."""

    times: int = 0

    def counting(self, call: Callable[..., Any]) -> Callable[..., Any]:
        """The same, counted."""

        def counted(*args: Any) -> Any:  # noqa: ANN401
            self.times += 1
            return call(*args)

        return counted

    def of_folding(self) -> AbstractContextManager[object]:
        """While it is open, every change that an event makes is counted."""
        changes = {kind: self.counting(change) for kind, change in folding.CHANGES.items()}
        return patch.dict(folding.CHANGES, changes)

    def of_filter(self) -> AbstractContextManager[object]:
        """While it is open, every update of the filter is counted."""
        return patch.object(miscount, "updated", self.counting(kalman.updated))


def calling(*rounds: str) -> Caller:
    """A call of a hat for a head of 56 cm, after these words."""
    caller = Caller(Unkept("hat"))
    answers = (
        c.Change("head_mm", Amount(560.0, unit=Unit.MM)),
        c.Change("yarn", Amount(4.0)),
        c.Change("hook_mm", Amount(5.0)),
    )
    caller.open(answers)
    for words in rounds:
        assert caller.hear(words).refused is None, words
    return caller


MM = partial(Amount, unit=Unit.MM)


def fitting(caller: Caller) -> c.Measured:
    """A reading around that is just as it is expected."""
    return c.Measured(MM(round(caller.state.piece.gauge.width_mm * caller.state.piece.stitches)))


@pytest.mark.parametrize("rounds", [6, 12, 25])
def test_a_reading_is_folded_once_and_learned_once(rounds: int) -> None:
    caller = calling(*["next"] * rounds)
    command = replace(fitting(caller), kind=c.Kind.AROUND)
    folds, updates = Calls(), Calls()
    with folds.of_folding(), updates.of_filter():
        reply = caller.take(command)
    assert any(isinstance(event, e.ReadingTaken) for event in reply.events)
    assert folds.times == len(reply.events)
    assert updates.times == 1


@pytest.mark.parametrize("more", [0, 1])
def test_a_count_is_folded_once_and_learned_once(more: int) -> None:
    caller = calling(*["next"] * 20)
    command = c.Counted(caller.state.piece.stitches + more)
    folds, updates = Calls(), Calls()
    with folds.of_folding(), updates.of_filter():
        reply = caller.take(command)
    assert any(isinstance(event, e.CountTaken) for event in reply.events)
    assert folds.times == len(reply.events)
    assert updates.times == 1


def test_a_round_is_folded_once_and_teaches_nothing() -> None:
    """The filter is only tried where a reading is asked for, to see which one tells most."""
    caller, asked = calling(), 0
    for _ in range(40):
        folds, updates = Calls(), Calls()
        with folds.of_folding(), updates.of_filter():
            reply = caller.take(c.Next())
        assert folds.times == len(reply.events)
        wanted = any(isinstance(event, e.ReadingWanted) for event in reply.events)
        assert not updates.times or wanted
        asked += wanted
    assert asked


def test_what_would_be_said_is_folded_once() -> None:
    caller = calling(*["next"] * 5)
    would = decided(caller.state, c.Next()).turn
    folds = Calls()
    with folds.of_folding():
        assert caller.preview(c.Next())
    assert folds.times == len(would)


def test_what_mends_the_turn_before_is_folded_once() -> None:
    caller = calling(*["next"] * 5, "across eleven centimetres")
    folds = Calls()
    with folds.of_folding():
        reply = caller.take(c.No(MM(112.0)))
    assert reply.events[0] == e.Undone()
    assert folds.times == len(reply.events) > 1


def by_definition(state: State, turn: Iterable[e.Event]) -> State:
    """What a turn does to a state, as a whole."""
    turn = tuple(turn)
    quiet = all(isinstance(event, folding.QUIET) for event in turn)
    if quiet or turn == (e.Undone(),) or isinstance(turn[0], e.Begun):
        return reduce(evolve, turn, state)
    after = reduce(evolve, turn, replace(state, last=None))
    return replace(after, undo=evolve(state, turn[0]) if turn[0] == e.Undone() else state)


@given(st.lists(COMMANDS, max_size=25))
@settings(deadline=None)
def test_any_turn_leads_where_its_events_lead(commands: list[c.Command]) -> None:
    state = calling().state
    for command in commands:
        folds = Calls()
        with ExitStack() as stack:
            stack.enter_context(folds.of_folding())
            try:
                done = decided(state, command)
            except Refused:
                continue
        assert folds.times == len(done.turn), done.turn
        assert done.after == fold(state, done.turn) == by_definition(state, done.turn)
        state = done.after


QUIETLY = st.sampled_from(
    [e.Paused(), e.Resumed(), e.WordingChosen(True), e.Undone(), e.NoteTaken("so", 1), e.Begun()]
)


@given(st.lists(QUIETLY, max_size=6), st.booleans())
def test_quiet_events_and_undo_in_any_order_lead_to_the_same(
    turn: list[e.Event], fresh: bool
) -> None:
    state = State(last="head_mm") if fresh else calling("next", "count six").state
    assert fold(state, turn) == by_definition(state, turn)
