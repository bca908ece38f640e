"""Which rounds are worth a count, and which round a count can be of.

To count every round is common practice, no source; here it is asked for where the stitches decide
the fit.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from pattern.plan.crown import crown_target
from pattern.plan.part_rules import ends_by_stitches
from pattern.plan.piece import Piece, left_in
from pattern.plan.sides import band_rounds
from pattern.shape.part_kinds import shaping
from pattern.shape.rounds import Round

BEFORE_BAND = 2.5
"""Where slips were found, the rounds of the band are counted and so many before it, so that it
begins with the right stitches. No source; set while looking at `tests.bench hard`, seeds 1 to 3."""
UNSURE_MM = 8.0
"""Sides further up are counted where the stitches are less certain than this, one standard
deviation of the girth: a slip that is found is not worked on for long. Our choice."""

MOST_COUNTS = 2
"""Counts asked for in a piece where none was wrong yet; our choice."""
LEFT_ALONE = 3
"""Rounds after one that was to be counted, and was not, in which no count is asked for; our choice.
"""


@dataclass(frozen=True, slots=True)
class CountsAsked:
    """How much was asked for already."""

    round: int = 0
    """The last round that was to be counted; 0 for none."""
    times: int = 0
    left_out: bool = False
    """Whether that round was worked and not counted."""


def worth_counting(piece: Piece, offered: Round, *, slips: bool) -> bool:
    """Whether the stitches of the offered round are worth a count, as it must fit.

    Those of the last round before sides; of the sides, where no slip was found yet, the round that
    is measured before the band, and the last one.
    """
    if not shaping(offered.stage).straight:
        return _leads_to_sides(piece, offered)
    left, band = left_in(piece, offered.part).mean, band_rounds(piece)
    if not slips:
        return left < 1.5 or band + 0.5 <= left < band + 1.5
    unsure = math.sqrt(piece.miscount.variance) * piece.gauge.width_mm
    return left < band + BEFORE_BAND or unsure > UNSURE_MM


def count_due(piece: Piece, offered: Round, asked: CountsAsked, *, slips: bool) -> bool:
    """Whether a count of the offered round is asked for: it is worth one, the maker was not asked
    too often while nothing was found wrong, and did not leave out such a request just now.
    """
    if asked.left_out and offered.number <= asked.round + LEFT_ALONE:
        return False
    often = not slips and asked.times >= MOST_COUNTS
    return not often and worth_counting(piece, offered, slips=slips)


def _leads_to_sides(piece: Piece, offered: Round) -> bool:
    """Whether it is the last round of a part that sides follow."""
    after = piece.stretches[offered.part + 1 : offered.part + 2]
    if not after or not after[0].shaping.straight:
        return False
    if ends_by_stitches(piece, offered):
        return offered.after >= crown_target(piece)
    return left_in(piece, offered.part).mean < 1.5


def counts_offered(offered: Round | None, last: int, count: int) -> bool:
    """Whether the count is that of the offered round, and cannot be the `last` round's."""
    if offered is None or abs(count - last) <= slip_allowed(last):
        return False
    return abs(count - offered.after) <= slip_allowed(offered.after)


def slip_allowed(stitches: int) -> int:
    """A slip this small is mended in the next round: one stitch in twenty, at least two."""
    return max(stitches // 20, 2)


def ripped_to_mend(made: Iterable[Round], count: int) -> int | None:
    """Rounds to rip back to the one with this count; `made` begins with the last; None for none."""
    for back, round_ in enumerate(made):
        if back and round_.after == count:
            return back
        if back >= 5:
            break
    return None
