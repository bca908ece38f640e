"""What a count says of earlier readings: a slip may have been there already when the tape was laid.

A tape around the edge shows the girth as it is, and the width of a stitch is that girth over the
stitches that were believed. When a later count finds more of them, or fewer, some of the slip may
be older than the reading; then the girth was right and the width was not.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from pattern.gauge import Gauge
from pattern.piece import Piece
from pattern.readings import Reading
from pattern.rounds import Round

SHOWS = 0.5
"""How often a slip shows in the next round of increases, as its repeats do not come out at the
marker; our choice."""
_WIDTH = (1.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Uncounted:
    """Stitches worked since the last count, before and after the last reading around the edge.

    Those of rounds before one with increases count less, see SHOWS.
    """

    before_reading: float
    after_reading: float
    stitches_read: int
    """Stitches that were believed in the round that was read."""
    on_sides: bool
    """The sides were read, not the crown."""

    @property
    def older(self) -> float:
        """How likely a slip is older than the reading, 0 to 1: any stitch may be the wrong one."""
        return self.before_reading / max(self.before_reading + self.after_reading, 1.0)


def uncounted(
    rounds: Iterable[tuple[Round, bool]], read: Reading, after_round: int, on_sides: bool
) -> Uncounted | None:
    """What was worked since the last count; None when nothing of that was read.

    `rounds` are the worked ones and whether each was counted, the last one first; the last was
    read when `after_round` of them were worked.
    """
    hidden = 1.0
    before = after = 0.0
    for round_, was_counted in rounds:
        if was_counted and before + after:
            break
        if round_.number <= after_round:
            before += hidden * round_.after
        else:
            after += hidden * round_.after
        hidden *= 1 - SHOWS if round_.places else 1.0
    return Uncounted(before, after, read.stitches, on_sides) if before else None


def counted(piece: Piece, count: int, uncounted: Uncounted | None) -> Piece:
    """The piece after a count; `uncounted` is None when nothing was read since the last one."""
    slip = count - piece.stitches + piece.slip
    found = replace(piece, stitches=count, slip=slip)
    new = count - piece.stitches
    if uncounted is None or not new:
        return found
    known = piece.sides_known or (uncounted.on_sides and uncounted.older > 0)
    return replace(found, gauge=_regauged(piece.gauge, new, uncounted), sides_known=known)


def _regauged(gauge: Gauge, slip: int, uncounted: Uncounted) -> Gauge:
    """The gauge with the width that the reading means for the stitches that were there."""
    older, believed = uncounted.older, uncounted.stitches_read
    there = max(believed + slip * older, believed / 2)
    wrong = gauge.width_mm * (believed / there - 1)
    unsure = abs(slip) * math.sqrt(older * (1 - older)) / believed
    return gauge.moved(_WIDTH, wrong).drifted(unsure)
