"""Whole sessions: every command there is, in any order, against what must always hold."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
)

from pattern.journal.lines import Turn, read_lines, write_line
from pattern.plan.readings import expected, reading_of
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.commands import Command, Kind, Look
from pattern.session.decide_yarn import on_hand
from pattern.session.decisions import decide, first_turn, taken_up
from pattern.session.folding import QUIET, fold
from pattern.session.history import CODEC, state_after
from pattern.session.next_offer import WORKING
from pattern.session.next_piece import carried
from pattern.session.refusals import Refused
from pattern.session.state import BESIDE_UNDO, CALLED_BESIDE, FINISHING_STEPS, Made, State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from tests.anything import ANY, TAPES
from tests.hats import AT, at, begun, kept, said
from tests.openings import opening
from tests.pieces import SHAPED
from tests.properties import examples

OPENINGS = st.fixed_dictionaries(
    {
        "head_mm": st.sampled_from([300.0, 355.6, 420.0]),
        "yarn": st.sampled_from([4, 5, 6, 7]),
        "hook_mm": st.sampled_from([5.0, 9.0, 15.0]),
    },
    optional={
        "brim_mm": st.sampled_from([0.0, 30.0]),
        "stacked": st.booleans(),
        "shape": st.sampled_from(SHAPED),
        "start": st.integers(4, 9),
        "stitch": st.sampled_from(["single", "double"]),
    },
)


def plain(state: State) -> State:
    """The state without what undo leaves alone."""
    stay = (*BESIDE_UNDO, *CALLED_BESIDE)
    return replace(state, **{name: getattr(State(), name) for name in stay})


@cache
def measured_hat() -> State:
    """A piece whose gauge was learned, for others to begin with."""
    state = at(Stage.SIDES, said(begun(), c.Rests(0)))
    around = c.Measured(Amount(420.0, 1.0, Unit.MM), Kind.AROUND)
    return said(state, around)


def counts(made: Made | None) -> list[tuple[int, int]]:
    """Number and stitches of the worked rounds, the first one first."""
    found: list[tuple[int, int]] = []
    while made is not None:
        found.insert(0, (made.round.number, made.round.after))
        made = made.earlier
    return found


def outcome_of(state: State, command: Command) -> tuple[e.Event, ...] | Refused:
    """The events of a command, or its refusal; nothing else may come of one."""
    try:
        return decide(state, command)
    except Refused as refused:
        return refused


class Sessions(RuleBasedStateMachine):
    """One piece, and whatever a maker might say."""

    def __init__(self) -> None:
        super().__init__()
        self.state, self.undos = State(), [State()]
        self.turns: list[Turn[e.Event]] = []

    @initialize(answers=st.none() | OPENINGS, rounds=st.integers(0, 30), like=st.booleans())
    def begin(self, answers: dict[str, object] | None, rounds: int, like: bool) -> None:
        if like:
            self.keep(first_turn((), carried(measured_hat(), "other hat")))
            self.undos = [self.state]
        if answers is not None:
            self.keep(opening(self.state, answers))
            self.go_on(rounds)

    def keep(self, events: tuple[e.Event, ...]) -> None:
        """Folds, and remembers what undo has to give back."""
        records = [json.loads(json.dumps(CODEC.encode(event))) for event in events]
        assert tuple(CODEC.decode(record) for record in records) == events
        before, self.state = self.state, fold(self.state, events)
        self.turns.append(Turn(events, AT))
        if events[:1] == (e.Undone(),):
            undone = fold(before, events[:1])
            assert plain(undone) == plain(self.undos.pop())
            self.undos += [undone] if len(events) > 1 else []
        elif not all(isinstance(event, QUIET) for event in events):
            self.undos.append(before)

    def say(self, command: Command) -> None:
        before, rounds = self.state, counts(self.state.made)
        outcome = outcome_of(before, command)
        if isinstance(outcome, Refused):
            if not isinstance(command, c.Answer | c.No | c.GoOn):  # these name what they mean
                assert (outcome.command, outcome.stage) == (command, before.stage)
            again = outcome_of(before, command)
            assert isinstance(again, Refused)
            assert again.reason is outcome.reason
            if before.paused:
                self.say(c.Resume())
            return
        self.keep(outcome)
        if not any(isinstance(event, e.RoundsTakenBack | e.Undone) for event in outcome):
            assert counts(self.state.made)[: len(rounds)] == rounds

    @rule(commands=st.lists(ANY, min_size=1, max_size=6))
    def say_anything(self, commands: list[Command]) -> None:
        for command in commands:
            self.say(command)

    @rule(times=st.integers(1, 6))
    def go_on(self, times: int) -> None:
        for _ in range(times):
            self.say(c.Skip() if self.state.doubt or self.state.question else c.Next())

    @rule(kind=TAPES, off=st.floats(0.6, 1.6), reply=st.sampled_from([c.Yes(), c.No(), c.Next()]))
    def measure_about_right(self, kind: Kind, off: float, reply: Command) -> None:
        piece = self.state.piece
        if piece.finished:
            hoped = expected(piece, reading_of(piece, kind, 100.0, 1.0, 0.0)).mean
            amount = Amount(round(hoped * off), 1.0, Unit.MM)
            self.say(c.Measured(amount, kind))
            self.say(c.No(replace(amount, value=round(hoped))) if off > 1.2 else reply)

    @rule(used=st.floats(0.3, 3.0), stash=st.sampled_from([40.0, 90.0, 200.0]))
    def weigh_about_right(self, used: float, stash: float) -> None:
        if not self.state.weighed:
            self.say(c.Change("stash_g", Amount(stash)))
        elif left := on_hand(self.state):
            gone = self.state.weighed[-1].grams - left.mean
            self.say(c.Weighed(Amount(round(self.state.weighed[-1].grams - gone * used))))

    @rule(off=st.integers(-12, 12), reply=st.sampled_from([c.Yes(), c.Skip()]))
    def count_about_right(self, off: int, reply: Command) -> None:
        self.say(c.Counted(self.state.piece.stitches + off))
        if self.state.doubt:
            self.say(reply if off % 2 else c.No(Amount(self.state.piece.stitches + 1)))

    @rule(sets=st.integers(0, 9), more=st.booleans(), then=ANY)
    def work_within_the_round(self, sets: int, more: bool, then: Command) -> None:
        self.say(c.Sets(sets, more))
        self.say(then)

    @rule(
        command=st.sampled_from(
            [
                c.Lies(Look.RIPPLES),
                c.Lies(Look.CUPS),
                c.StartSides(),
                c.StartBrim(),
                c.StartNext(),
                c.FinishNow(),
                c.Back(),
                c.Tension(),
                c.RippedBack(1),
                c.RippedBack(3),
                c.Begin(),
                c.HeadOf(2.0),
                c.Adjust("depth_mm", Amount(2.0, unit=Unit.CM), True),
                c.Change("head_mm", Amount(38.0, unit=Unit.CM)),
                c.Change("yarn", Amount(5.0)),
                c.Change("brim_mm", Amount(0.0, unit=Unit.CM)),
                c.Change("start", Amount(8.0)),
                c.Choose("stacked", True),
                c.Choose("stitch", "half double"),
            ]
        )
    )
    def say_what_changes_the_plan(self, command: Command) -> None:
        self.say(command)

    @rule(days=st.floats(0, 100))
    def take_up_again(self, days: float) -> None:
        if turn := taken_up(self.state, days):
            self.keep(turn)

    @precondition(lambda self: len(self.undos) > 1)
    @rule(share=st.floats(0, 1))
    def undo_some(self, share: float) -> None:
        for _ in range(1 + int(share**3 * len(self.undos))):
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

    def teardown(self) -> None:
        """Whatever was said, the hat can be finished, in rounds that the plan promised."""
        if self.state.paused:
            self.say(c.Resume())
        if self.state.decorating is not None and self.state.doubt is None:
            self.say(c.Enough())
        if self.state.stage is Stage.SETUP:
            self.say(c.Begin())
        for _ in range(1000):
            if self.state.stage is Stage.DONE:
                break
            self.say(c.Skip() if self.state.doubt else c.Next())
        assert self.state.stage is Stage.DONE
        lines = [write_line(CODEC, n, turn) for n, turn in enumerate(self.turns, 1)]
        again = state_after(read_lines(kept("Hat"), b"".join(lines), CODEC).turns)
        assert replace(again, undo=None) == replace(self.state, undo=None)


TestSessions = Sessions.TestCase
TestSessions.settings = settings(
    max_examples=examples(60),
    stateful_step_count=20,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
