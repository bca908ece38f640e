"""The rounds that are left, from the settings, the gauge as it is known, and what is worked."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from pattern.commands import Look
from pattern.gauge import Estimate, Gauge, Row, gradient, prior
from pattern.rounds import Round, Stage, recipe, spaced_round
from pattern.settings import Settings
from pattern.shape import brim as brim_part
from pattern.shape import flat_girth_mm

TIGHTEST_FULL, SLACKEST_FULL = 0.85, 1.15
"""Fullness at which a crown is helped: a slight cup begins about 20 % under, crowding 20 % over.
Common practice, one worker's test."""
FIT_STEPS = 0.5
"""Sides off the wanted girth by more than this share of a stitch are corrected by whole stitches:
worked out, half a stitch is the least that a correction can better."""
FITS_MM = 10.0
"""A hat within this of the wanted girth fits; our choice. Sides further off get one more round,
which corrects them, although they are deep enough."""
CORRECT_AT_MOST = 10
"""A correction changes at most one stitch in so many in a round, so that it does not pucker."""


@dataclass(frozen=True, slots=True)
class Piece:
    """The work as far as it is done; a plan is a function of this alone."""

    settings: Settings = field(default_factory=Settings)
    gauge: Gauge = field(default_factory=lambda: prior(Settings()))
    stage: Stage = Stage.RING
    finished: int = 0
    """Rounds finished in all."""
    stitches: int = 0
    """Stitches in the last finished round."""
    side_rounds: int = 0
    brim_rounds: int = 0
    edge_stitches: int = 0
    """Stitches at the foot of the sides, where the brim begins."""
    edge_girth: Estimate | None = None
    """Their girth, as it was known then; rounds of brim do not change it."""
    look: Look | None = None
    """How the maker said it lies after the last finished round."""
    sides_known: bool = False
    """Whether the sides were measured around since they were last corrected: one reading is not
    corrected twice, or a depth that moves the estimate a little would undo it again."""
    slip: int = 0
    """Stitches found too many (or, below 0, missing) in the last finished round."""
    crown_closed: bool = False
    """The maker stopped the increases."""
    sides_closed: bool = False
    """The maker found the sides deep enough."""

    @property
    def corners(self) -> int | None:
        """Corners of the crown, when its increases stack."""
        return self.settings.increases if self.settings.stacked else None


def crown_target(piece: Piece) -> int:
    """Stitches whose girth is the wanted one: C / w, to the nearest stitch."""
    return max(round(piece.settings.girth_mm / piece.gauge.width_mm), piece.settings.increases)


def fullness(piece: Piece, stitches: int, rounds: int) -> Estimate:
    """Girth of the edge over the girth that lies flat, after so many rounds of crown or brim."""

    def full(x: Row) -> float:
        width, height, ring = x
        if piece.stage is Stage.BRIM:
            out = brim_part(rounds * height, piece.settings.slope_deg)
            radius = piece.edge_stitches * width / math.tau + out.outward_mm(rounds * height)
            return stitches * width / (piece.settings.fullness * math.tau * radius)
        return stitches * width / flat_girth_mm(max(ring + rounds * height, 0.1), piece.corners)

    row = gradient(full, piece.gauge.mean)
    return Estimate(full(piece.gauge.mean), piece.gauge.of(row).sd)


def next_round(piece: Piece) -> Round | None:
    """The round to be worked next; None when the piece is whole."""
    stage = next_stage(piece)
    number = piece.finished + 1
    if stage is Stage.RING:
        return Round(number, stage, 0, piece.settings.increases)
    if stage is Stage.CROWN:
        change = _crown_change(piece)
        even = change > 2 and piece.stitches % change == 0  # others are long enough to say
        shifted = even and not piece.settings.stacked and number % 2 == 0
        return spaced_round(number, stage, piece.stitches, change, shifted)
    if stage is Stage.SIDES:
        change = correction(piece) or _mended(piece)
        return spaced_round(number, stage, piece.stitches, change)
    if stage is Stage.BRIM:
        return spaced_round(number, stage, piece.stitches, _brim_change(piece))
    return None


def next_stage(piece: Piece) -> Stage:
    """The stage of the round to be worked next."""
    stage = piece.stage
    if piece.finished == 0:
        return Stage.RING
    if stage is Stage.RING:
        stage = Stage.CROWN
    if stage is Stage.CROWN and (
        piece.crown_closed or piece.stitches >= crown_target(piece)
    ):
        stage = Stage.SIDES
    deep = piece.side_rounds and sides_left(piece).mean < 0.5
    if stage is Stage.SIDES and (piece.sides_closed or (deep and not _misfits(piece))):
        stage = Stage.BRIM
    if stage is Stage.BRIM and piece.brim_rounds >= brim_total(piece):
        stage = Stage.FINISHING
    return stage


def _crown_change(piece: Piece) -> int:
    """Increases of the next crown round: the usual ones, none, or some more."""
    left = crown_target(piece) - piece.stitches
    usual = max(piece.settings.increases - piece.slip, 0)
    after = piece.finished + 1
    if piece.look is Look.RIPPLES:
        return 0
    more = usual + max(usual // 3, 1)
    if piece.look is Look.CUPS:
        return min(more, left, piece.stitches)
    change = min(usual, left, piece.stitches)
    if piece.finished < 4 or piece.look is Look.FLAT:
        return change
    full = fullness(piece, piece.stitches + change, after)
    if full.mean - full.sd > SLACKEST_FULL:
        return 0
    if full.mean + full.sd < TIGHTEST_FULL:
        return min(more, left, piece.stitches)
    return change


def girth_of(piece: Piece, stitches: int) -> Estimate:
    """The girth of so many stitches."""
    return piece.gauge.of((float(stitches), 0.0, 0.0))


def correction(piece: Piece) -> int:
    """Stitches to add or take out in the next round of the sides, so that the hat fits."""
    if not piece.sides_known:
        return 0
    width = piece.gauge.width_mm
    off = piece.settings.girth_mm - girth_of(piece, piece.stitches).mean
    if abs(off) <= FIT_STEPS * width:
        return 0
    most = max(piece.stitches // CORRECT_AT_MOST, 1)
    return max(-most, min(most, round(off / width)))


def _misfits(piece: Piece) -> bool:
    """Whether the sides miss the wanted girth by so much that a round more is worth it."""
    off = piece.settings.girth_mm - girth_of(piece, piece.stitches).mean
    return correction(piece) != 0 and abs(off) > FITS_MM


def _mended(piece: Piece) -> int:
    """The change that takes back a slip in the count of straight sides."""
    most = max(piece.stitches // CORRECT_AT_MOST, 1)
    return max(-most, min(most, -piece.slip))


def sides_left(piece: Piece) -> Estimate:
    """Rounds until the depth is reached, as a real number, with its spread."""
    depth, height = depth_at(piece, piece.finished), piece.gauge.height_mm
    return Estimate((piece.settings.depth - depth.mean) / height, depth.sd / height)


def depth_at(piece: Piece, rounds: float) -> Estimate:
    """Depth along the cloth from the centre after so many rounds."""
    return piece.gauge.of((0.0, float(rounds), 1.0))


def brim_total(piece: Piece) -> int:
    """Rounds in the brim, to the nearest."""
    width = piece.settings.brim
    return max(round(width / piece.gauge.height_mm), 1) if width > 0 else 0


def brim_stitches(piece: Piece, rounds: float) -> float:
    """Stitches that lie at the brim's slope and fullness after so many of its rounds."""
    edge = piece.edge_stitches or piece.stitches
    width, height = piece.gauge.width_mm, piece.gauge.height_mm
    radius = edge * width / math.tau
    outward = brim_part(rounds * height, piece.settings.slope_deg).outward_mm(rounds * height)
    return piece.settings.fullness * math.tau * (radius + outward) / width


def _brim_change(piece: Piece) -> int:
    """Increases of the next brim round: about two rounds' growth, or none on the rounds between."""
    rounds, total = piece.brim_rounds + 1, brim_total(piece)
    if piece.look is Look.RIPPLES:
        return 0
    growth = brim_stitches(piece, rounds) - brim_stitches(piece, rounds - 1)
    due = brim_stitches(piece, rounds) - piece.stitches
    if due < 0.75 * growth and piece.look is not Look.CUPS:
        return 0
    ahead = brim_stitches(piece, min(rounds + 1, total)) - piece.stitches
    wanted = max((due + ahead) / 2, 1.0)
    return _easiest(piece.stitches, min(wanted, piece.stitches), growth / 3)


def _easiest(stitches: int, wanted: float, slack: float) -> int:
    """The change near `wanted` that is shortest to say; the nearest among equals."""
    near = range(max(math.ceil(wanted - slack), 1), math.floor(wanted + slack) + 1)
    choices = [c for c in near if c <= stitches] or [min(max(round(wanted), 1), stitches)]

    def cost(change: int) -> tuple[int, float]:
        said = recipe(spaced_round(1, Stage.BRIM, stitches, change))
        return sum(len(group.repeats) for group in said.groups), abs(change - wanted)

    return min(choices, key=cost)


def cut_to_fit(piece: Piece, offered: Round, sets: int) -> Round:
    """A crown round in work, with only as many more increases as the girth still wants."""
    if offered.stage is not Stage.CROWN or offered.decreasing:
        return offered
    wanted = crown_target(piece) - offered.before
    return offered.cut_after(max(sets, min(wanted, offered.sets)))


def recounted(piece: Piece, offered: Round) -> Round:
    """A round in work, spread again over the stitches found in the round before it."""
    if offered.before == piece.stitches:
        return offered
    room = piece.stitches // 2 if offered.decreasing else piece.stitches
    sets = min(offered.sets, room)
    change = -sets if offered.decreasing else sets
    shifted = offered.places[:1] > (0,)
    return spaced_round(offered.number, offered.stage, piece.stitches, change, shifted)


def rounds_left(piece: Piece, offered: Round | None) -> int:
    """Rounds from the offered one to the last, as planned now."""
    if offered is None:
        return 0
    stage = offered.stage
    crown = sides = 0
    if stage in {Stage.RING, Stage.CROWN}:
        missing = crown_target(piece) - piece.stitches
        crown = max(math.ceil(missing / piece.settings.increases), 1)
    if stage is not Stage.BRIM:
        sides = max(round(sides_left(piece).mean) - crown, 1)
    return crown + sides + brim_total(piece) - piece.brim_rounds
