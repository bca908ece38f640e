"""Trying on: a word on how the piece sits, as a reading of it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from pattern.plan.piece import Piece, depth_at, left_in
from pattern.plan.readings import Reading
from pattern.shape.fits import GIVES_MM, OUTRIGHT, Fit, Word
from pattern.shape.reading_kinds import Kind
from pattern.shape.settings import Settings

TABLE_MM, SETTLED_MM = 12.0, 6.0
"""How far the table's depth is off for a head, one standard deviation, before the edge was seen on
it and after. The trade's two rules differ by 20 mm (common practice, no source)."""
LOWER_MM = 12.0
"""How much lower than just above the eyebrows a hat without a brim ends: at the eyebrows, over the
tops of the ears. Common practice, no source."""


AIM_MM = 3.0
"""So much wider than right is aimed at by words alone: a hat a little too wide is worn, and one too
tight is not. No source; set while looking at `tests.bench fit`, seeds 1 to 3."""


class Head(StrEnum):
    """Whether the head that the piece is for is at hand."""

    UNKNOWN = "unknown"
    HERE = "here"
    AWAY = "away"


@dataclass(frozen=True, slots=True)
class Means:
    """The tape and the head that there are to measure with."""

    tape: bool = True
    head: Head = Head.UNKNOWN

    @property
    def tries_on(self) -> bool:
        """Whether trying on is asked for in place of the tape."""
        return self.head is Head.HERE or (not self.tape and self.head is Head.UNKNOWN)


SITS_ROUNDS = 2.5
"""Rounds before the end of sides that flare to the head from which on their edge sits there: it is
no more than a centimetre narrower then. Our choice."""


def reaches_head(piece: Piece, part: int) -> bool:
    """Whether a part ends at the head: straight sides, or such as flare to it and go on to nothing
    but a brim.
    """
    ahead = piece.stretches[part:]
    tapers = ahead[0].shaping.tapers and not any(one.shaping.straight for one in ahead)
    return piece.settings.shape.for_head and (ahead[0].shaping.straight or tapers)


def sits_now(piece: Piece) -> bool:
    """Whether the edge of now is the one that sits at the head."""
    part = min(piece.index, len(piece.stretches) - 1)
    if piece.in_ring or not piece.shaping.hangs or not reaches_head(piece, part):
        return False
    return piece.shaping.straight or left_in(piece, part).mean < SITS_ROUNDS


def girth_said_mm(wanted: Settings, word: Word) -> float:
    """The girth that a word tells, for a head and the ease that was wanted.

    A fibre that gives is worn wider than it is tried on.
    """
    gives = GIVES_MM.get(wanted.fibre, 0.0) if wanted.fibre is not None else 0.0
    return wanted.girth_mm + word.offset_mm + gives - AIM_MM


def around_reading(piece: Piece, wanted: Settings, fit: Fit, word: Word) -> Reading:
    """The reading of the girth that a word is."""
    value_mm = girth_said_mm(wanted, word)
    return Reading(Kind.FIT, value_mm, word.step_mm, piece.finished, piece.stitches, fit)


def edge_level_mm(wanted: Settings) -> float:
    """How much lower than just above the eyebrows the sides are to end."""
    return 0.0 if wanted.brim else LOWER_MM


def edge_reading(
    piece: Piece, wanted: Settings, fit: Fit, word: Word, *, seen_before: bool
) -> Reading:
    """The reading of the edge; its value is the depth that settles, from the table's and the word.

    What was said outright counts alone; the rest is weighed by how sure it is. Where a word is for
    all that ends higher, or lower, and the plan knows of still more, the plan stays.
    """
    now = depth_at(piece, piece.finished)
    outright = fit in OUTRIGHT
    level_mm = 0.0 if outright else edge_level_mm(wanted)
    said_mm = now.mean + level_mm - word.offset_mm
    if word.ends * (said_mm - wanted.depth) > 0:
        said_mm = wanted.depth
    elif not outright:
        table = SETTLED_MM if seen_before else TABLE_MM
        known, heard = 1 / (table**2 + now.sd**2), 1 / word.spread_mm**2
        said_mm = (wanted.depth * known + said_mm * heard) / (known + heard)
    return Reading(Kind.EDGE, said_mm, word.step_mm, piece.finished, piece.stitches, fit)
