"""Straight sides: how they are corrected until they fit, and when they are deep enough."""

from __future__ import annotations

import math

from pattern.gauge.estimate import Estimate
from pattern.plan.part_ends import FIT_BAND_MM, end_girth_mm, target
from pattern.plan.piece import Piece, girth_of, left_in
from pattern.shape.narrowest import fewest

FIT_STEPS = 0.5
"""Sides off the wanted girth by more than this share of a stitch are corrected by whole stitches:
worked out, half a stitch is the least that a correction can better."""
WORTH_MM = 5.0
"""Sides that are no further off than this, half of FITS_MM, are told of and not corrected: a stitch
for half a centimetre of tape gains nothing. So a correction is worth more than half of what fits.
No source; set while looking at `tests.bench fit` and `hard`, seeds 1 to 5, 1000 and 750 makers: as
many fit within 1 cm with it as with corrections of any size (98.9 to 99.0 %, and 99.6 %), and fewer
(98.7 %) at 6 to 6.5."""
FITS_MM = 10.0
"""A hat within this of the wanted girth fits; our choice. Sides further off get one more round,
which corrects them, although they are deep enough."""
CORRECT_AT_MOST = 10
"""A correction changes at most one stitch in so many in a round, so that it does not pucker."""
BAND_OFF_MM = 4.0
"""Where the rounds of the band that are worked would leave it further off than this in the mean,
the rest of it makes up for them: cloth gives, and no head feels one round. No source; set while
looking at `tests.bench hard` and `fit`, seeds 1 to 3: at 0 the last round of all suffers."""
PAST_MM = 5.0
"""So much wider or narrower than wanted the rest of a band may be for that: half of FITS_MM."""
BAND_MISFITS_MM, TOO_DEEP = 6.0, 0.0
"""A band that is so far off in the mean gets one more round, unless the sides are so many rounds
too deep already: then its last rounds are worked anew. No source; set as BAND_OFF_MM was."""
REWORK_AT_MOST = 3
"""Rounds that are ripped back at the end of the sides at the most; our choice."""


def correction(piece: Piece) -> int:
    """Stitches to add or take out in the next round of the sides, so that they fit."""
    if not piece.sides_known:
        return 0
    width, off = piece.gauge.width_mm, off_mm(piece) + _past_mm(piece)
    if abs(off) <= max(FIT_STEPS * width, WORTH_MM):
        return 0
    return _at_most(piece, round(off / width))


def _at_most(piece: Piece, change: int) -> int:
    """As much of a change as one round of the sides may have, down to the fewest that they can."""
    most = max(piece.stitches // CORRECT_AT_MOST, 1)
    least = min(max(-most, fewest(piece.settings, max(piece.index, 1)) - piece.stitches), 0)
    return max(least, min(most, change))


def band_rounds(piece: Piece) -> float:
    """Rounds of the sides that sit at the head, as a real number."""
    return FIT_BAND_MM / piece.gauge.height_mm


def off_mm(piece: Piece) -> float:
    """Girth in mm missing from that at the end of this part; below 0 if it is too large."""
    return -_over_mm(piece, piece.stitches)


def _past_mm(piece: Piece) -> float:
    """How much wider than wanted the rest of the band is to be, to make up for its beginning."""
    left = max(round(left_in(piece, piece.index).mean), 1)
    whole = math.ceil(band_rounds(piece))
    done = piece.band[left - whole :] if left < whole else ()
    if not done:
        return 0.0
    lacks_mm = -sum(_over_mm(piece, stitches) for stitches in done)
    too_much_mm = max(abs(lacks_mm) - BAND_OFF_MM * (left + len(done)), 0.0)
    return math.copysign(min(PAST_MM, too_much_mm / left), lacks_mm)


def _band_off_mm(piece: Piece) -> float:
    """How much too wide the rounds of the band are in the mean, as far as they are worked."""
    over = [_over_mm(piece, stitches) for stitches in piece.band[-math.ceil(band_rounds(piece)) :]]
    return sum(over) / len(over) if over else 0.0


def _over_mm(piece: Piece, stitches: int) -> float:
    """How much wider than wanted a round of the sides is."""
    return girth_of(piece, stitches).mean - end_girth_mm(piece, piece.index)


def to_rework(piece: Piece) -> int:
    """Rounds of the sides to rip back, where the tape shows a misfit of the band that the rounds
    still to come cannot make up for; 0 for none.

    As few as it takes; those that were too many for the depth come out with them.
    """
    if not piece.shaping.straight or not piece.sides_known:
        return 0
    to_come = round(left_in(piece, piece.index).mean)
    if _left_off_mm(piece, 0, max(to_come, 0)) <= BAND_MISFITS_MM and (
        to_come > 0 or not correction(piece) or abs(off_mm(piece)) <= FITS_MM
    ):
        return 0
    most = min(REWORK_AT_MOST, piece.rounds_in(piece.index))
    able = [
        rounds for rounds in range(1, most + 1) if rounds + to_come > 0 and _corrects(piece, rounds)
    ]
    mends = (
        rounds for rounds in able if _left_off_mm(piece, rounds, rounds + to_come) <= BAND_OFF_MM
    )
    return next(mends, able[-1] if able else 0)


def _corrects(piece: Piece, ripped: int) -> bool:
    """Whether the round after those that stay can be corrected at once: else ripping is in vain."""
    stay = piece.band[: len(piece.band) - ripped]
    before = stay[-1] if stay else piece.edge_stitches
    most, over = max(before // CORRECT_AT_MOST, 1), _over_mm(piece, before)
    if over > 0:
        most = min(most, max(before - fewest(piece.settings, piece.index), 0))
    return abs(over) <= (most + FIT_STEPS) * piece.gauge.width_mm


def _left_off_mm(piece: Piece, ripped: int, anew: int) -> float:
    """How far off the band is in the mean when so many of its rounds are ripped back, and so many
    are worked that make up for those that stay.
    """
    size = math.ceil(band_rounds(piece))
    stay = piece.band[: len(piece.band) - ripped][max(anew - size, -len(piece.band)) :]
    over = [_over_mm(piece, stitches) for stitches in stay] if anew < size else []
    made_up = anew * PAST_MM
    return max(abs(sum(over)) - made_up, 0.0) / max(len(over) + anew, 1)


def sides_change(piece: Piece, part: int) -> int:
    """The change of the next round of the sides: a correction, or one that takes a slip back, or
    what the ring has too many.

    Where the tape knows the girth it says all; and who began the sides early wants the stitches
    that there are.
    """
    if piece.sides_known or piece.closed > piece.index:
        return correction(piece)
    wanted = target(piece, part)
    of_ring = part == 1 and wanted < fewest(piece.settings, 0)
    return _at_most(piece, min(wanted - piece.stitches, 0) if of_ring else -piece.slip)


def sides_over(piece: Piece, part: int) -> bool:
    """Whether the sides are deep enough; those that misfit, or slipped, get one more round."""
    left = left_in(piece, part).mean
    if not piece.rounds_in(part) or left >= 0.5:
        return False
    band_off = abs(_band_off_mm(piece))
    if left > -TOO_DEEP and band_off > max(BAND_MISFITS_MM, abs(off_mm(piece))):
        return False
    if not piece.sides_known:
        return abs(piece.slip) * piece.gauge.width_mm <= FITS_MM
    return correction(piece) == 0 or abs(off_mm(piece)) <= FITS_MM


def sides_left(piece: Piece) -> Estimate:
    """Rounds until the sides that are worked, or come next, end; with their spread.

    From the rounds finished now, also where they do not begin yet and end at a depth.
    """
    sides = [part for part, stretch in enumerate(piece.stretches) if stretch.shaping.straight]
    ahead = [part for part in sides if part >= piece.index] or sides[-1:]
    return left_in(piece, ahead[0]) if ahead else Estimate(0.0, 0.0)
