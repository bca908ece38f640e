"""Counts of stitches in a session: taken, read back, impossible; and how a slip is mended."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.plan.counting import ripped_to_mend, slip_allowed
from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.events import CountDoubted, CountTaken, RoundFinished
from pattern.session.refusals import Reason
from pattern.session.state import State
from pattern.shape.rounds import Stage
from tests.hats import begun, said, until, why_refused


def crown(rounds: int) -> State:
    return until(lambda now: now.piece.finished == rounds, begun())


def kinds_of(state: State, command: c.Command) -> list[type]:
    return [type(event) for event in decide(state, command)]


@given(st.integers(-3, 150))
def test_a_count_is_taken_read_back_or_impossible(count: int) -> None:
    """A round of 18 makes at the most 36 and at the least 9: an increase in each, or a decrease.

    24 are worked and 30 offered: a count about 30 says that the offered round is done.
    """
    state = crown(4)
    if not 9 <= count <= 36:
        assert why_refused(state, c.Counted(count)) is Reason.COUNT_IMPOSSIBLE
        return
    kinds = kinds_of(state, c.Counted(count))
    if abs(count - 24) <= slip_allowed(24):
        assert kinds[0] is CountTaken
    elif abs(count - 30) <= slip_allowed(30):
        assert kinds[0] is RoundFinished
        assert CountTaken in kinds
        assert said(state, c.Counted(count)).piece.stitches == count
    else:
        assert kinds == [CountDoubted]


@given(st.integers(-2, 2).filter(bool), st.integers(0, 5))
def test_a_slip_is_mended_by_the_next_crown_round(slip: int, sets: int) -> None:
    """Two more found, two fewer increased; repeats that are worked already stay worked."""
    state = said(crown(4), c.Counted(24 + slip))
    assert state.offered is not None
    assert (state.offered.before, state.offered.after) == (24 + slip, 30)
    within = said(crown(4), c.Sets(sets), c.Counted(24 + slip))
    assert within.offered is not None
    assert (within.offered.before, within.sets) == (24 + slip, sets)
    made = said(within, c.Next()).piece.stitches
    assert made == (24 + slip + 6 if sets else 30)


@given(st.integers(1, 5), st.sampled_from([2, 3, 4, 6]))
def test_a_count_of_an_earlier_round_says_how_far_to_rip(back: int, worked: int) -> None:
    state = crown(worked)
    count = 6 * (worked - back)
    made = [each.round for each in state.rounds_made()]
    assert ripped_to_mend(made, count) == (back if count > 0 else None)
    assert ripped_to_mend(made, count + 1) is None


@pytest.mark.parametrize("shape", ["close cap", "beret"])
def test_a_last_round_that_does_not_fit_is_mended_before_the_yarn_is_cut(shape: str) -> None:
    state = begun(shape=shape, head_mm=560.0, yarn=4, hook_mm=5.0)
    while state.stage is not Stage.FINISHING:
        state = said(state, c.Skip() if state.want else c.Next())
    short = said(state, c.Counted(state.piece.stitches - 3))
    assert short.stage is Stage.SIDES
    assert short.offered is not None
    assert short.offered.after > short.offered.before
    wanted = [c.Next()] if state.want else []  # leaves the reading, and calls the first step
    cut = said(state, *wanted, c.Next(), c.Counted(state.piece.stitches - 3))
    assert cut.stage is Stage.FINISHING


def test_a_piece_that_was_ended_early_stays_ended() -> None:
    ended = said(until(lambda now: now.piece.finished == 4, begun()), c.FinishNow(), c.Yes())
    assert said(ended, c.Counted(ended.piece.stitches - 1)).stage is Stage.FINISHING


def test_a_round_closed_by_its_count_is_measured_when_it_would_be_after_next() -> None:
    """A hat worked to its end; where a count can only be the offered round's."""
    state, wanted = begun(head_mm=560.0, yarn=4, hook_mm=4.5), 0
    while state.offered is not None:
        after = said(state, c.Next())
        count = c.Counted(state.offered.after)
        if state.made and RoundFinished in kinds_of(state, count):
            assert said(state, count).want == after.want
            wanted += after.want is not None
        state = after
    assert wanted >= 2
