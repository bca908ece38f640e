"""Whole sessions: every command there is, in any order, against what must always hold."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import get_args

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from pattern import commands as c
from pattern import events as e
from pattern.commands import Command, Kind
from pattern.decisions import WORKING, decide, opening
from pattern.history import CODEC, state_after
from pattern.lengths import Amount, Unit
from pattern.lines import Turn, read_lines, write_line
from pattern.readings import expected, reading_of
from pattern.refusals import Refused
from pattern.rounds import Stage
from pattern.session import FINISHING_STEPS, QUIET, Made, State, fold
from pattern.settings import LIMITS, QUESTIONS
from tests.pieces import AT, kept

COMMANDS: tuple[type[Command], ...] = get_args(Command)
KEYS = sorted({*LIMITS, *QUESTIONS, "girth"})
AMOUNTS = st.builds(
    Amount,
    st.integers(-3, 90) | st.floats(-10, 800) | st.sampled_from([0.0, 22.0, 57.0, 1e9]),
    st.sampled_from([1.0, 0.5, 0.25, 0.125, 0.1]),
    st.none() | st.sampled_from(Unit),
)
NUMBERS = st.integers(-2, 130)
st.register_type_strategy(Amount, AMOUNTS)


def some(kind: type[Command]) -> st.SearchStrategy[Command]:
    """Any command of a class, with numbers near those that make sense."""
    named = {"key": st.sampled_from(KEYS), "count": NUMBERS, "rounds": st.integers(-1, 4),
             "value": st.sampled_from(["double", "uk", "inch", True, None, 8, 40.0, "gram"]),
             "age_years": st.none() | st.floats(-1, 130),
             "stitches": st.none() | NUMBERS}  # fmt: skip
    mine = {item.name: named[item.name] for item in fields(kind) if item.name in named}
    return st.builds(kind, **mine)


ANY = st.sampled_from(COMMANDS).flatmap(some)
OPENINGS = st.fixed_dictionaries(
    {"head_mm": st.sampled_from([300.0, 355.6, 420.0]), "yarn": st.sampled_from([4, 5, 6, 7]),
     "hook_mm": st.sampled_from([5.0, 9.0, 15.0])},
    optional={"brim_mm": st.sampled_from([0.0, 30.0]), "stacked": st.booleans(),
              "start": st.integers(4, 9), "stitch": st.sampled_from(["single", "double"])},
)  # fmt: skip


def plain(state: State) -> State:
    """The state without what undo leaves alone."""
    return replace(state, brief=False, paused=False)


def counts(made: Made | None) -> list[tuple[int, int]]:
    """Number and stitches of the worked rounds, the first one first."""
    found: list[tuple[int, int]] = []
    while made is not None:
        found.insert(0, (made.round.number, made.round.after))
        made = made.earlier
    return found


class Sessions(RuleBasedStateMachine):
    """One piece, and whatever a maker might say."""

    def __init__(self) -> None:
        super().__init__()
        self.state, self.undos = State(), [State()]
        self.turns: list[Turn[e.Event]] = []

    @initialize(answers=st.none() | OPENINGS)
    def begin(self, answers: dict[str, object] | None) -> None:
        if answers is not None:
            self.keep(opening(self.state, answers))

    def keep(self, events: tuple[e.Event, ...]) -> None:
        """Folds, and remembers what undo has to give back."""
        before, self.state = self.state, fold(self.state, events)
        self.turns.append(Turn(events, AT))
        if e.Undone() in events[:1]:
            assert plain(self.state if len(events) == 1 else fold(before, events[:1])) == plain(
                self.undos.pop()
            )
            if len(events) > 1:
                self.undos.append(fold(before, events[:1]))
        elif not all(isinstance(event, QUIET) for event in events):
            self.undos.append(before)

    def say(self, command: Command) -> None:
        before = self.state
        try:
            events = decide(before, command)
        except Refused as refused:
            assert refused.command == command or isinstance(command, c.Answer)
            assert refused.stage is before.stage
            assert decide_again_refuses(before, command)
            return
        rounds = counts(before.made)
        self.keep(events)
        if not any(isinstance(event, e.RoundsTakenBack | e.Undone) for event in events):
            assert counts(self.state.made)[: len(rounds)] == rounds

    @rule(command=ANY)
    def say_anything(self, command: Command) -> None:
        self.say(command)

    @rule(times=st.integers(1, 6))
    def go_on(self, times: int) -> None:
        for _ in range(times):
            self.say(c.Skip() if self.state.doubt or self.state.question else c.Next())

    @rule(kind=st.sampled_from([kind for kind in Kind if kind is not Kind.LOOK]),
          off=st.floats(0.7, 1.4))  # fmt: skip
    def measure_about_right(self, kind: Kind, off: float) -> None:
        piece = self.state.piece
        if piece.finished:
            hoped = expected(piece, reading_of(piece, kind, 100.0, 1.0, 0.0)).mean
            self.say(c.Measured(Amount(round(hoped * off), 1.0, Unit.MM), kind))

    @rule(off=st.integers(-12, 12))
    def count_about_right(self, off: int) -> None:
        self.say(c.Counted(self.state.piece.stitches + off))

    @rule()
    def undo_all(self) -> None:
        for _ in range(len(self.undos)):
            self.say(c.Undo())

    @invariant()
    def stage_agrees(self) -> None:
        state, piece = self.state, self.state.piece
        assert (state.offered is not None) == (state.stage in WORKING)
        if state.offered is not None:
            assert (state.offered.stage, state.offered.number) == (state.stage, piece.finished + 1)
            assert state.offered.before == piece.stitches
            assert 0 <= state.sets <= state.offered.sets
        assert len(counts(state.made)) == piece.finished
        assert (state.question is not None) <= (state.stage is Stage.SETUP)
        assert 0 <= state.step <= len(FINISHING_STEPS)
        assert (state.step == len(FINISHING_STEPS)) == (state.stage is Stage.DONE)

    @invariant()
    def the_journal_adds_up_to_it(self) -> None:
        lines = [write_line(CODEC, n, turn) for n, turn in enumerate(self.turns, 1)]
        assert state_after(read_lines(kept("Hat"), b"".join(lines), CODEC).turns) == self.state

    def teardown(self) -> None:
        """Whatever was said, the hat can be finished, in rounds that the plan promised."""
        if self.state.paused:
            self.say(c.Resume())
        if self.state.stage is Stage.SETUP:
            self.say(c.Begin())
        for _ in range(1000):
            if self.state.stage is Stage.DONE:
                break
            self.say(c.Skip() if self.state.doubt else c.Next())
        assert self.state.stage is Stage.DONE


def decide_again_refuses(state: State, command: Command) -> bool:
    """A refusal is a function of state and command: nothing was kept."""
    with pytest.raises(Refused):
        decide(state, command)
    return True


TestSessions = Sessions.TestCase
TestSessions.settings = settings(
    deadline=None, max_examples=60, stateful_step_count=30,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)  # fmt: skip


@pytest.mark.parametrize("kind", COMMANDS, ids=lambda kind: kind.__name__)
def test_every_command_is_decided(kind: type[Command]) -> None:
    """A class without a rule for deciding it would raise KeyError."""
    from pattern.decisions import _DECIDERS

    assert kind in _DECIDERS
