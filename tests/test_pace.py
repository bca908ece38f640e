"""Pace: makers of a known pace are told it; rests are hinted at in their rhythm, and not more."""

from __future__ import annotations

import random
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.forecast.pace import (
    BREAK_MIN,
    FEWEST_ROUNDS,
    LATEST_ROUNDS,
    Pace,
    effort,
    pace_of,
    rest_due,
    time_left,
    time_taken,
)
from pattern.journal.journal import Journal
from pattern.journal.lines import Turn
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.history import CODEC
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount
from tests.openings import opening
from tests.properties import examples
from voice.caller.caller import Caller
from voice.sentences import pace as pace_said
from voice.sentences.pace import BRIEF_REST, REST, duration

START = datetime(2026, 3, 1, 18, 30, tzinfo=UTC)


class Work:
    """A piece worked by somebody whose minutes are known."""

    def __init__(self) -> None:
        self.state, self.at, self.turns = State(), START, list[Turn[e.Event]]()
        self._keep(opening(self.state, {"head_mm": 560.0, "yarn": 4, "hook_mm": 5.0}))

    def _keep(self, events: tuple[e.Event, ...]) -> None:
        self.state = fold(self.state, events)
        self.turns.append(Turn(events, self.at.strftime("%Y-%m-%dT%H:%M:%S.%fZ")))

    def say(self, command: c.Command, after_min: float = 0.0) -> None:
        self.at += timedelta(minutes=after_min)
        self._keep(decide(self.state, command))

    def round(self, per_min: float) -> None:
        assert self.state.offered is not None
        self.say(c.Next(), effort(self.state.offered) / per_min)


@settings(max_examples=examples(30))
@given(st.floats(8, 40), st.integers(5, 14), st.integers(0, 10**6))
def test_an_even_maker_is_told_her_pace(per_min: float, rounds: int, seed: int) -> None:
    """Rounds that vary by 10 %: what is told is within four standard errors of the percentile.

    A normal law's 60th percentile lies 0.2533 deviations over its mean; its standard error is about
    that of a median, 1.2533 of a mean's.
    """
    work, chance = Work(), random.Random(seed)
    for _ in range(rounds):
        work.round(per_min * chance.gauss(1.0, 0.1))
    pace = pace_of(work.turns)
    assert pace is not None
    timed = min(rounds - 1, LATEST_ROUNDS)
    assert pace.rounds == timed, "the first began with the interview"
    middle = 1 + 0.2533 * 0.1
    assert abs(pace.stitches_per_min / per_min - middle) < 4 * 1.2533 * 0.1 / timed**0.5


def test_too_few_rounds_have_no_pace() -> None:
    work = Work()
    for _ in range(FEWEST_ROUNDS):
        assert pace_of(work.turns) is None
        work.round(12.0)
    assert pace_of(work.turns) is None
    work.round(12.0)
    assert pace_of(work.turns) is not None


@pytest.mark.parametrize("away_min", [BREAK_MIN + 1, 600.0, -60.0])
def test_breaks_pauses_and_clocks_that_jump_do_not_count(away_min: float) -> None:
    work = Work()
    for _ in range(6):
        work.round(12.0)
    plain = pace_of(work.turns)
    work.say(c.Sets(1), away_min)
    work.round(12.0)
    assert pace_of(work.turns) == plain
    work.say(c.Pause(), 1.0)
    work.say(c.Resume(), 45.0)
    work.say(c.Next(), effort(work.state.offered) / 12.0 - 1.0 if work.state.offered else 0.0)
    after = pace_of(work.turns)
    assert after is not None
    assert plain is not None
    assert after.rounds == min(plain.rounds + 1, LATEST_ROUNDS)
    assert after.stitches_per_min == pytest.approx(12.0, rel=1e-6), (
        "the minutes of a pause that was said are left out"
    )


def test_time_left_is_stitches_by_pace_and_goes_down() -> None:
    work = Work()
    pace = Pace(12.0, 0.1, 9)
    left, crown = [], []
    while work.state.stage is not Stage.FINISHING:
        left.append(time_left(work.state, pace).mean)
        crown.append(time_left(work.state, pace, crown_only=True).mean)
        assert crown[-1] <= left[-1]
        work.round(12.0)
    assert all(b < a for a, b in pairwise(left))
    assert crown[-1] == 0 < crown[0]
    taken = (work.at - START).total_seconds() / 60
    assert left[0] == pytest.approx(taken, rel=1e-6), "worked as planned, it takes as long as told"
    assert time_left(work.state, pace).mean == 0
    assert time_taken(work.state, pace) == pytest.approx(taken, rel=1e-6)
    assert f"{duration(taken)}" in pace_said.left(work.state, pace)
    assert pace_said.left(work.state, None) == "No rounds are left."


def test_spread_grows_with_what_is_not_known() -> None:
    state = Work().state
    sure, unsure = Pace(12.0, 0.1, 30), Pace(12.0, 0.4, 4)
    assert time_left(state, sure).sd < time_left(state, unsure).sd


def due(work: Work, every_min: float = 30.0) -> list[float]:
    """Minutes since the start at which a rest is hinted at."""
    return [
        (datetime.fromisoformat(work.turns[n - 1].at_iso) - START).total_seconds() / 60
        for n in range(1, len(work.turns) + 1)
        if rest_due(work.turns[:n], every_min)
    ]


@settings(max_examples=examples(40))
@given(st.lists(st.floats(0.2, 14), min_size=5, max_size=25), st.sampled_from([10, 20, 30]))
def test_a_hint_comes_once_in_each_rhythm(rounds_min: Sequence[float], every: int) -> None:
    """The first round to end past each multiple of the rhythm, and no other, has the hint."""
    work = Work()
    for minutes in rounds_min:
        work.say(c.Next(), minutes)
    ends = [sum(rounds_min[: n + 1]) for n in range(len(rounds_min))]
    marks = {int(end // every) for end in ends} - {0}
    found = due(work, every)
    first = [next(end for end in ends if int(end // every) == mark) for mark in sorted(marks)]
    assert found == pytest.approx(first, abs=1e-4)
    assert due(work, 0) == []


def test_a_rest_starts_the_rhythm_again() -> None:
    work = Work()
    for _ in range(2):
        work.say(c.Next(), 12.0)
    work.say(c.Pause())
    work.say(c.Resume(), 5.0)
    for _ in range(3):
        work.say(c.Next(), 12.0)
    assert due(work) == pytest.approx([2 * 12 + 5 + 3 * 12])
    changed = Work()
    changed.say(c.Next(), 14.0)
    changed.say(c.Rests(20), 14.0)
    changed.say(c.Next(), 14.0)
    assert due(changed, 20) == []
    changed.say(c.Next(), 14.0)
    assert len(due(changed, 20)) == 1


def test_the_caller_hints_and_can_be_told_not_to(tmp_path: Path) -> None:
    now = [START]

    def said(words: str, minutes: float = 0.0) -> str:
        now[0] += timedelta(minutes=minutes)
        return caller.hear(words).say

    with Journal.open(tmp_path, "hat", CODEC) as journal:
        caller = Caller(journal, lambda: now[0])
        caller.open([c.HeadOf(), c.Choose("yarn", 4), c.Change("hook_mm", Amount(5.0))])
        assert "do not know your pace" in said("how long will it take")
        hints = [REST in said("next", 4.0) for _ in range(12)]
        assert hints == [n in {8} for n in range(1, 13)]
        assert "of work. You make about" in said("how long will it take")
        assert "The crown takes about" in said("when will the crown be done")
        said("brief")
        assert said("rest every 20 minutes") == "A hint to rest every twenty minutes of work."
        assert [BRIEF_REST in said("next", 8.0) for _ in range(5)] == [
            False,
            False,
            True,
            False,
            True,
        ]
        assert said("no rest hints") == "No hints to rest."
        assert not any(BRIEF_REST in said("next", 10.0) for _ in range(5))


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        (0.2, "one minute"),
        (2.4, "two minutes"),
        (24, "twenty five minutes"),
        (88, "ninety minutes"),
        (100, "one and a half hours"),
        (245, "four hours"),
    ],
)
def test_times_are_told_roughly(minutes: float, words: str) -> None:
    assert duration(minutes) == words
