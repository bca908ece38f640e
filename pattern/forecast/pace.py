"""How fast the maker works, from the times of the turns, and when a rest is due."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from statistics import median, quantiles
from types import UnionType

from pattern.forecast.rest_of_piece import rounds_ahead
from pattern.forecast.stitch_spread import stitches_unsure
from pattern.gauge.estimate import Estimate
from pattern.journal.lines import Turn
from pattern.session import events as e
from pattern.session.decide_yarn import stitches_open
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.shape.part_kinds import shaping
from pattern.shape.rounds import Round

BREAK_MIN = 20.0
"""A longer gap between two turns was a break: a hundred stitches at a slow five a
minute take as long; our choice."""
RESTED_MIN = 2.0
"""A pause that was said and lasted so long was a rest of the hands: common advice of two minutes
every half hour (Stanford EHS), of low evidence (Cochrane CD012886), for comfort."""
FASTEST_PER_MIN = 120.0
"""Rounds said to be worked faster were only told faster; far above any maker, our choice."""
UNHURRIED = 60
"""The pace is this percentile of the rounds' rates: what disturbs a round makes it slower, never
quicker, and hands become quicker. No source; set while looking at `tests.bench pace`, seeds 1 to 3.
"""
LATEST_ROUNDS = 8
"""Only so many of the latest rounds tell the pace: hands become quicker, and the first rounds are
short and fiddly; our choice."""
INCREASE_TAKES = 0.8
"""Stitches more that an increase or decrease takes in time. No source; set as UNHURRIED was."""
FEWEST_ROUNDS = 3
"""Rounds that must have been timed before a pace is told."""
_NORMAL = 1.4826
"""Standard deviation over median absolute deviation of a normal law."""
_OF_MEDIAN = math.sqrt(math.pi / 2)
"""Standard error of a median over that of a mean, of a normal law."""


@dataclass(frozen=True, slots=True)
class Pace:
    """Stitches a minute of work, the median of the latest rounds, and how they differ."""

    stitches_per_min: float
    spread: float
    """Of one round, relative."""
    rounds: int

    def minutes(self, stitches: float, rounds: int) -> Estimate:
        """Time for so many stitches in so many rounds."""
        mean = stitches / self.stitches_per_min
        known = _OF_MEDIAN / math.sqrt(self.rounds)
        return Estimate(mean, mean * self.spread * math.hypot(known, 1 / math.sqrt(max(rounds, 1))))


def pace_of(turns: Sequence[Turn[e.Event]]) -> Pace | None:
    """The pace; None while too few rounds were timed without a break."""
    rates = list(_rates(turns))[-LATEST_ROUNDS:]
    if len(rates) < FEWEST_ROUNDS:
        return None
    middle = quantiles(rates, n=100, method="inclusive")[UNHURRIED - 1]
    spread = _NORMAL * median(abs(rate / middle - 1) for rate in rates)
    return Pace(middle, max(spread, 0.05), len(rates))


def _rates(turns: Sequence[Turn[e.Event]]) -> Iterator[float]:
    """Stitches a minute of each round that was worked without a break."""
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
    """The round in plain stitches, by the time it takes."""
    return round_.after + INCREASE_TAKES * round_.sets


def _tape_laid(state: State, turn: Turn[e.Event]) -> bool:
    """Whether the time before the turn went into a reading that was asked for."""
    return state.want is not None and _has(turn, e.ReadingTaken | e.ReadingDoubted)


def _work_min(before: Turn[e.Event] | None, turn: Turn[e.Event]) -> float:
    """Minutes of work between two turns: none in a pause that was said, endless in a break."""
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


def time_left(state: State, pace: Pace, crown_only: bool = False) -> Estimate:
    """Minutes of work for the rounds left, or for those of the crown."""
    ahead = rounds_ahead(state)
    if crown_only:
        ahead = tuple(round_ for round_ in ahead if shaping(round_.stage).flat)
    stitches = max(sum(effort(round_) for round_ in ahead) - stitches_open(state), 0.0)
    time = pace.minutes(stitches, len(ahead))
    more = 0.0 if crown_only else stitches_unsure(state.piece, ahead) / pace.stitches_per_min
    return Estimate(time.mean, math.hypot(time.sd, more))


def rest_due(turns: Sequence[Turn[e.Event]], every_min: float) -> bool:
    """Whether the round that the last turn finished completes another `every_min` of work.

    Counted from the first round, the last rest, or the last change of the rhythm; so that there is
    never more than one hint in that time.
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
