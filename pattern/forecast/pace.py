"""Estimates the maker's pace from the times of the turns, and tells when a rest is due."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from statistics import median, quantiles
from types import UnionType

from pattern.forecast.rest_of_piece import rounds_ahead, rounds_made
from pattern.forecast.stitch_spread import stitches_unsure
from pattern.gauge.estimate import Estimate
from pattern.journal.lines import Turn
from pattern.session import events as e
from pattern.session.decide_yarn import stitches_open
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.shape.rounds import Round

BREAK_MIN = 20.0
"""A longer gap between two turns counts as a break; our choice. A hundred stitches at a slow 5 a
minute take as long."""
RESTED_MIN = 2.0
"""An announced pause of this length counts as a rest for the hands: common advice of two minutes
every half hour (Stanford EHS), for comfort; low-quality evidence (Cochrane CD012886)."""
FASTEST_PER_MIN = 120.0
"""Faster rounds were only reported faster: this is far above any maker's pace. Our choice."""
UNHURRIED = 60
"""Percentile of the rounds' rates that is taken as the pace: interruptions only slow a round, and
makers get faster as they go. No source; tuned on `tests.bench pace`, seeds 1 to 3.
"""
LATEST_ROUNDS = 8
"""Number of latest rounds used for the pace: makers get faster, and the first rounds are short and
fiddly. Our choice."""
INCREASE_TAKES = 0.8
"""Extra time of an increase or decrease, in stitches. No source; tuned as UNHURRIED was."""
FEWEST_ROUNDS = 3
"""Rounds that must be timed before a pace is told."""
_NORMAL = 1.4826
"""Standard deviation over median absolute deviation of a normal distribution."""
_OF_MEDIAN = math.sqrt(math.pi / 2)
"""Standard error of the median over that of the mean, for a normal distribution."""


@dataclass(frozen=True, slots=True)
class Pace:
    """Stitches in a minute of work, from the latest rounds, with their spread."""

    stitches_per_min: float
    spread: float
    """Relative spread of one round."""
    rounds: int

    def minutes(self, stitches: float, rounds: int) -> Estimate:
        """Time in minutes for a number of stitches in a number of rounds."""
        mean = stitches / self.stitches_per_min
        known = _OF_MEDIAN / math.sqrt(self.rounds)
        return Estimate(mean, mean * self.spread * math.hypot(known, 1 / math.sqrt(max(rounds, 1))))


def pace_of(turns: Sequence[Turn[e.Event]]) -> Pace | None:
    """The pace; None until enough rounds were timed without a break."""
    rates = list(_rates(turns))[-LATEST_ROUNDS:]
    if len(rates) < FEWEST_ROUNDS:
        return None
    middle = quantiles(rates, n=100, method="inclusive")[UNHURRIED - 1]
    spread = _NORMAL * median(abs(rate / middle - 1) for rate in rates)
    return Pace(middle, max(spread, 0.05), len(rates))


def _rates(turns: Sequence[Turn[e.Event]]) -> Iterator[float]:
    """Stitches a minute in each round that was worked without a break."""
    state, worked_min = State(), math.inf
    before: Turn[e.Event] | None = None
    for turn in turns:
        worked_min += 0.0 if _tape_laid(state, turn) else _work_min(before, turn)
        state, before = fold(state, turn.events), turn
        if _has(turn, e.RoundFinished) and state.made is not None:
            rate = effort(state.made.round) / worked_min if worked_min > 0 else math.inf
            if 0 < rate <= FASTEST_PER_MIN:
                yield rate
        if _has(turn, e.RoundFinished | e.RoundsTakenBack | e.Undone):
            worked_min = 0.0 if _has(turn, e.RoundFinished) else math.inf


def effort(round_: Round) -> float:
    """Time to work the round, expressed in plain stitches."""
    return round_.after + INCREASE_TAKES * round_.sets


def _tape_laid(state: State, turn: Turn[e.Event]) -> bool:
    """Whether the time before the turn was spent on a requested reading."""
    return state.want is not None and _has(turn, e.ReadingTaken | e.ReadingDoubted)


def _work_min(before: Turn[e.Event] | None, turn: Turn[e.Event]) -> float:
    """Minutes of work between two turns: 0 for an announced pause, infinite for a break."""
    if before is None:
        return 0.0
    gap = _gap_min(before, turn)
    if _has(before, e.Paused | e.Left):
        return 0.0
    return gap if 0 <= gap <= BREAK_MIN else math.inf


def _gap_min(before: Turn[e.Event], turn: Turn[e.Event]) -> float:
    since = datetime.fromisoformat(turn.at_iso) - datetime.fromisoformat(before.at_iso)
    return since.total_seconds() / 60


def _has(turn: Turn[e.Event], kind: type[e.Event] | UnionType) -> bool:
    return any(isinstance(event, kind) for event in turn.events)


def time_left(state: State, pace: Pace, *, crown_only: bool = False) -> Estimate:
    """Minutes of work for the rounds left, or only for those of the crown, the first part."""
    ahead = rounds_ahead(state)
    if crown_only:
        ahead = tuple(round_ for round_ in ahead if round_.part == 0)
    stitches = max(sum(effort(round_) for round_ in ahead) - stitches_open(state), 0.0)
    time = pace.minutes(stitches, len(ahead))
    more = 0.0 if crown_only else stitches_unsure(state.piece, ahead) / pace.stitches_per_min
    return Estimate(time.mean, math.hypot(time.sd, more))


def time_taken(state: State, pace: Pace) -> float:
    """Minutes of work that the worked rounds took, at that pace."""
    return sum(map(effort, rounds_made(state))) / pace.stitches_per_min


def rest_due(turns: Sequence[Turn[e.Event]], every_min: float) -> bool:
    """Whether the round finished in the last turn completes another `every_min` minutes of work.

    Work is counted from the first round, the last rest, or the last change of `every_min`, so that
    there is at most one hint in that time.
    """
    if every_min <= 0 or not turns or not _has(turns[-1], e.RoundFinished):
        return False
    worked = asked = 0.0
    begun = False
    for before, turn in pairwise(turns):
        begun = begun or _has(before, e.RoundOffered)
        if _has(before, e.RoundFinished):
            asked = worked
        worked = _hands_min(worked, before, turn) if begun else 0.0
        if not worked or _has(turn, e.RestsChosen):
            worked = asked = 0.0
    return worked // every_min > asked // every_min


def _hands_min(worked: float, before: Turn[e.Event], turn: Turn[e.Event]) -> float:
    """Minutes of work since the last rest, after the gap between two turns."""
    gap = _gap_min(before, turn)
    if _has(before, e.Paused | e.Left):
        return 0.0 if gap >= RESTED_MIN else worked
    return 0.0 if gap > BREAK_MIN else worked + max(gap, 0.0)
