"""Readings that are worth asking for in each kind of part."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.plan.brim import brim_total
from pattern.plan.crown import SLACKEST_FULL, TIGHTEST_FULL, by_tape, crown_over, crown_target
from pattern.plan.effort import EVEN, ON_DISC, narrowed_mm
from pattern.plan.looks import LOOKS
from pattern.plan.part_ends import end_girth_mm, short_sides
from pattern.plan.piece import Piece, depth_at, fullness, left_in
from pattern.plan.readings import Want, girth_finished
from pattern.plan.sides import band_rounds, sides_left
from pattern.shape.reading_kinds import Kind, Look

FIT_TOLERANCE_MM = 7.0
"""Two standard deviations of the girth wider than this, and a reading is worth asking: a hat
within 1 cm fits, and rounding to whole stitches takes up to half a stitch of that."""
SLOPE_TOLERANCE_MM = 22.0
"""The same while a dome or a taper is made, where it need not be so narrow: the sides are measured
again and corrected. No source; set while looking at `tests.bench fit`, seeds 1 to 3, where any
value from 10 to 22 did as well and a larger one spares readings."""
CROWN_GAIN_MM, SHALLOW_GAIN_MM = 30.0, 5.0
"""A reading of a flat crown is asked for when it narrows two standard deviations of the girth by so
much for each unit of its effort. Where the sides are too short to be corrected for long, the second
holds, and effort does not matter. So a tape across is asked for, and one around the flat edge is
not: the sides are measured, and corrected, as soon as they begin. No source; set while looking at
`tests.bench fit` and `hard`, seeds 901, 902 and 31."""
CROWN_SHARE = 0.7
"""Share of the stitches of the crown from which it is asked for: early enough to decide where the
crown ends, and late, so that it spans many rounds. No source; set as that was, where 0.65 to 0.75
did as well."""
HEIGHT_SPREAD = 0.05
"""Rounds whose height is less certain than this, relative, are measured across, late in the crown:
it tells how many rounds, how much yarn and how long the rest takes. No source; set while looking at
`tests.bench pace`, seeds 1 to 3."""
LAST_MM = 10.0
"""Sides that are deep enough are measured once more when misfit and two standard deviations of the
girth are more than this: their last round can still be worked anew. No source; set while looking at
`tests.bench fit`, seeds 901, 902 and 20264: 99.2 to 99.6 % fit, and 99.0 % where none is asked."""
UNREAD_MM = 16.0
"""The same for sides that were not measured yet, or long ago."""
DEPTH_TOLERANCE_MM = 13.0
"""The same for the depth, and the width of a brim, which no head feels so narrowly. No source; set
while looking at `tests.bench fit`, seeds 901 and 902: 98 % lie within 1 cm, and 14 saves a tenth of
a reading for one in a hundred."""
BAND_AHEAD, BAND_NEAR = 1.5, 0.5
"""The sides are measured around once more when the band begins after no more than so many rounds
(the first where slips were found): early enough that it is corrected from its first rounds on, and
late, so that little drift comes after. No source; set while looking at `tests.bench fit` and
`hard`, seeds 1 to 3."""
SETTLED = 2
"""Straight rounds until the edge shows their own tension; one must do where the band is near."""
DEPTH_ROUNDS = 8.0
"""The depth is measured when no more than so many rounds of the sides are left; earlier than
BAND_AHEAD, since the reading may shorten them. No source; set as that was."""
SHORT_MM, SHORT_AROUND, SHORT_DEPTH = 12.0, 3.5, 5.0
"""A part before short sides is measured around when the girth is less certain than so many mm
(two standard deviations) and so many rounds are left, the depth when so many are. No source; set
as BAND_AHEAD was."""
ASKED_ON_CROWN, ASKED_ON_SIDES = 2, 4
"""Readings asked for on a flat crown, and on the sides, at the most; our choice."""
LEFT_ALONE = 2
"""Rounds after a reading that was left out in which none is asked for; our choice."""
ASKED_FOR_SLIPS = 2
"""So many more where stitches were found too many or too few; our choice."""
ASKED_IN_ALL, KEPT_FOR_SIDES = 8, 3
"""Readings asked for in a piece at the most, while hands and hook stay the same, and how many of
them what comes before the sides leaves to these; our choice."""
ALONG_STITCHES = 10
"""Stitches that a reading along the edge spans."""


@dataclass(frozen=True, slots=True)
class Asking:
    """How much was asked already; a caller that asks too often is switched off."""

    since: int
    """Rounds finished since a reading was last asked for or taken."""
    unseen: bool
    """The maker was not yet asked, and has not said, how this stage lies."""
    times: int
    """Readings asked for in this stage."""
    in_all: int = 0
    """Readings asked for in the piece since hands or hook changed."""
    edge_since: int = 99
    """Rounds finished since it was last asked where the edge ends on the head."""
    slips: bool = False
    """Stitches were found too many or too few in this piece; there may be more."""
    left_out: bool = False
    """The last one that was asked for was not taken."""


def most_asked(piece: Piece, asking: Asking) -> int:
    """Readings that may have been asked for, and one more still is."""
    most = ASKED_IN_ALL + (ASKED_FOR_SLIPS if asking.slips else 0)
    ahead = any(stretch.shaping.straight for stretch in piece.stretches[piece.index + 1 :])
    return most - (KEPT_FOR_SIDES if ahead else 0)


def may_ripple_or_cup(piece: Piece) -> bool:
    """Whether the crown, as far as is known, lies so badly that a look at it is worth asking."""
    full = fullness(piece, piece.stitches, piece.finished)
    out = full.mean > SLACKEST_FULL or full.mean < TIGHTEST_FULL
    more = piece.finished >= 4 and not crown_over(piece)
    return more and out and full.sd > LOOKS[Look.FLAT][1] / 2


def for_crown(piece: Piece, asking: Asking) -> Want | None:
    """The reading of a flat crown that is worth its effort most, if one is; then the height."""
    if by_tape(piece):
        return _for_mat(piece, asking)
    share = piece.stitches / crown_target(piece)
    again = asking.times > 0
    if asking.since < 2 + again or asking.times >= ASKED_ON_CROWN or not CROWN_SHARE <= share < 1:
        return None
    short = short_sides(piece, 0)
    wants = [_across(piece), Want(Kind.ALONG, ALONG_STITCHES), Want(Kind.AROUND)]
    gain_mm = {want: narrowed_mm(piece, want, EVEN if short else ON_DISC) for want in wants}
    best = max(wants, key=gain_mm.__getitem__)
    if gain_mm[best] >= (SHALLOW_GAIN_MM if short else CROWN_GAIN_MM):
        return best
    if again:
        return None
    unsure = piece.gauge.of((0.0, 1.0, 0.0)).sd > HEIGHT_SPREAD * piece.gauge.height_mm
    return _across(piece) if unsure else None


def for_brim(piece: Piece, asking: Asking) -> Want | None:
    """The width of the brim, once, when half of it is made."""
    if asking.times:
        return None
    width = piece.gauge.of((0.0, float(brim_total(piece)), 0.0))
    halfway = piece.brim_rounds * 2 >= brim_total(piece) > piece.brim_rounds
    return Want(Kind.BRIM) if halfway and 2 * width.sd > DEPTH_TOLERANCE_MM else None


def for_sides(piece: Piece, asking: Asking) -> Want | None:
    """Around when they have settled and again just before their band; the depth in between.

    A reading that was asked for a round ago puts the last one off, where the depth is due.
    """
    left, most = sides_left(piece).mean, ASKED_ON_SIDES + (ASKED_FOR_SLIPS if asking.slips else 0)
    if asking.times >= most:
        return None
    if left < 0.5:
        girth = girth_finished(piece)
        off = abs(girth.mean - end_girth_mm(piece, piece.index))
        return Want(Kind.AROUND) if off + 2 * girth.sd > LAST_MM else None
    above, unsure = left - band_rounds(piece), 2 * girth_finished(piece).sd
    first = SETTLED if above >= BAND_AHEAD else 1
    settled = piece.side_rounds == first or (piece.side_rounds > first and asking.since >= 4)
    kept = asking.times == most - 1  # the last one is kept for the end
    if unsure > UNREAD_MM and not kept and (settled or left <= DEPTH_ROUNDS):
        return Want(Kind.AROUND)
    deep = piece.stretch.end_depth_mm is not None and left <= DEPTH_ROUNDS
    deep = deep and not kept and asking.since >= 1 and _depth_unsure(piece, left)
    near = above < (BAND_AHEAD if asking.slips else BAND_NEAR)
    if near and unsure > FIT_TOLERANCE_MM and (asking.since >= 2 or not deep):
        return Want(Kind.AROUND)
    return Want(Kind.DEPTH) if deep else None


def _depth_unsure(piece: Piece, left: float) -> bool:
    """Whether the depth after the rounds that are left is not known well enough."""
    return 2 * depth_at(piece, piece.finished + left).sd > DEPTH_TOLERANCE_MM


def _for_mat(piece: Piece, asking: Asking) -> Want | None:
    """Across, once half of the way is made and again before the end, while that is unsure."""
    left = left_in(piece, 0)
    due = piece.finished >= 4 and 0.5 <= left.mean <= max(piece.finished, DEPTH_ROUNDS)
    unsure = 2 * left.sd * piece.gauge.height_mm > DEPTH_TOLERANCE_MM / 2
    if not due or not unsure or asking.since < 3 or asking.times >= ASKED_ON_SIDES:
        return None
    return _across(piece)


def for_slope(piece: Piece, asking: Asking) -> Want | None:
    """Around, while the girth at the end is unsure and the rounds are long enough to tell."""
    left = left_in(piece, piece.index)
    if piece.finished < 5 or left.mean < 0.5:
        return None
    if asking.times < ASKED_ON_SIDES + ASKED_FOR_SLIPS and short_sides(piece, piece.index):
        if left.mean < SHORT_AROUND and 2 * girth_finished(piece).sd > SHORT_MM:
            return Want(Kind.AROUND)
        if left.mean < SHORT_DEPTH and asking.since >= 1 and _depth_unsure(piece, 0.0):
            return Want(Kind.DEPTH)
    if asking.since < 3 or asking.times >= ASKED_ON_SIDES:
        return None
    if 2 * girth_finished(piece).sd > SLOPE_TOLERANCE_MM:
        return Want(Kind.AROUND)
    unsure = 2 * left.sd * piece.gauge.height_mm > DEPTH_TOLERANCE_MM
    by_depth = piece.stretch.end_depth_mm is not None and left.mean <= DEPTH_ROUNDS
    return Want(Kind.DEPTH) if by_depth and unsure else None


def _across(piece: Piece) -> Want:
    return Want(Kind.CORNERS if piece.settings.stacked else Kind.ACROSS)
