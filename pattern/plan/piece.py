"""The work as far as it is done, and what follows from it and the gauge alone."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from pattern.gauge.estimate import Estimate, Gauge, Row, gradient
from pattern.gauge.miscount import Miscount, girth
from pattern.gauge.prior import prior
from pattern.shape.geometry import flat_girth_mm, radius_at
from pattern.shape.part_kinds import Shaping, shaping
from pattern.shape.profile import Stretch, profile
from pattern.shape.reading_kinds import Look
from pattern.shape.rounds import Stage
from pattern.shape.settings import Settings


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
    worked: tuple[int, ...] = ()
    """Rounds finished in each part of the shape that is begun; the ring is the first of them."""
    edges: tuple[int, ...] = ()
    """Stitches at the end of each part that is left."""
    edge_girth: Estimate | None = None
    """Girth at the foot of the sides, as it was known when the brim began, which does not change
    it."""
    look: Look | None = None
    """How the maker said it lies after the last finished round."""
    sides_known: bool = False
    """Whether the sides were measured around since they were last corrected: one reading is not
    corrected twice, or a depth that moves the estimate a little would undo it again."""
    slip: int = 0
    """Stitches found too many (or, below 0, missing) in the last finished round."""
    band: tuple[int, ...] = ()
    """Stitches of the last rounds of the sides in work, the last one last."""
    miscount: Miscount = field(default_factory=Miscount)
    """Stitches that may be there beyond those, as no count told yet."""
    closed: int = 0
    """Parts that count as done because the maker went on to the next."""
    changed_after: int = 0
    """Rounds that were worked when another hook was taken last."""
    changed_ratio: float = 1.0
    """Size of a stitch with that hook over its size before."""

    @property
    def corners(self) -> int | None:
        """Corners of the crown, when its increases stack."""
        return self.settings.increases if self.settings.stacked else None

    @property
    def stretches(self) -> tuple[Stretch, ...]:
        """The profile that is wanted."""
        return profile(self.settings)

    @property
    def index(self) -> int:
        """The part of the last finished round, counted from 0."""
        return max(len(self.worked) - 1, 0)

    @property
    def stretch(self) -> Stretch:
        """The part of the last finished round; the last part where the shape lost its brim."""
        return self.stretches[min(self.index, len(self.stretches) - 1)]

    def rounds_in(self, part: int) -> int:
        """Rounds finished in a part."""
        return self.worked[part] if part < len(self.worked) else 0

    @property
    def in_ring(self) -> bool:
        """Whether no more than the ring is worked."""
        return self.stage is Stage.RING

    @property
    def shaping(self) -> Shaping:
        """How the fabric of the last finished round lies."""
        return shaping(self.stage)

    @property
    def side_rounds(self) -> int:
        """Rounds finished in straight sides."""
        known = zip(self.worked, self.stretches, strict=False)
        return sum(count for count, stretch in known if stretch.shaping.straight)

    @property
    def brim_rounds(self) -> int:
        """Rounds finished in the brim."""
        brims = [part for part, each in enumerate(self.stretches) if each.shaping.flared]
        if brims:
            return sum(map(self.rounds_in, brims))
        return self.worked[-1] if self.shaping.flared else 0  # in a brim that was given up

    def heights(self, rounds: float) -> float:
        """So many rounds from the middle in rounds as high as those of now: those before another
        hook was taken count as high as they are, seen from there.
        """
        before = min(rounds - self.changed_after, 0.0)
        return rounds + before * (1 / self.changed_ratio - 1)

    def high(self, rounds: int) -> float:
        """So many of the last finished rounds in rounds as high as those of now."""
        return self.heights(self.finished) - self.heights(self.finished - rounds)

    @property
    def edge_stitches(self) -> int:
        """Stitches at the end of the part before; 0 in the first part."""
        return self.edges[-1] if self.edges else 0


def fullness(piece: Piece, stitches: int, rounds: int) -> Estimate:
    """Girth of the edge over the girth that lies flat, after so many rounds.

    Rounds of the brim in a brim, of the piece everywhere else.
    """

    lies = piece.shaping

    def full(x: Row) -> float:
        width, height, ring = x
        if lies.flared:
            high = rounds - piece.brim_rounds + piece.high(piece.brim_rounds)
            out = math.cos(math.radians(piece.settings.slope)) * high * height
            radius = edge_mm(piece, width) / math.tau + out
            return stitches * width / (piece.settings.fullness * math.tau * radius)
        along = max(ring + rounds * height, 0.1)
        if lies.flat:
            return stitches * width / flat_girth_mm(along, piece.corners)
        return stitches * width / (math.tau * max(_radius_mm(piece, along), 0.1))

    row = gradient(full, piece.gauge.mean)
    return Estimate(full(piece.gauge.mean), piece.gauge.of(row).sd)


def edge_mm(piece: Piece, width_mm: float) -> float:
    """Girth of the edge that the brim grows from, with stitches so wide; it stays as it was where
    another hook was taken in the brim.
    """
    if piece.edge_girth is not None and piece.changed_after > piece.finished - piece.brim_rounds:
        return piece.edge_girth.mean
    stitches = piece.edge_stitches if piece.shaping.flared else 0
    return (stitches or piece.stitches) * width_mm


def _radius_mm(piece: Piece, along_mm: float) -> float:
    return radius_at([stretch.part for stretch in piece.stretches], along_mm)


def girth_of(piece: Piece, stitches: float) -> Estimate:
    """The girth of so many stitches, as they are called."""
    return girth(piece.gauge, piece.miscount, stitches)


def depth_at(piece: Piece, rounds: float) -> Estimate:
    """Depth along the cloth from the centre after so many rounds."""
    return piece.gauge.of((0.0, piece.heights(rounds), 1.0))


def left_in(piece: Piece, part: int, finished: float | None = None) -> Estimate:
    """Rounds until a part ends by its length, as a real number, with its spread.

    Of the whole part, where it is not begun; `finished` are the rounds of the piece that come
    before that, unless they are those finished now.
    """
    stretch, height = piece.stretches[part], piece.gauge.height_mm
    done = piece.rounds_in(part)
    if stretch.end_depth_mm is not None or part == 0:
        before = float(piece.finished) if finished is None or done else finished
        end_mm = stretch.end_depth_mm or stretch.part.length_mm
        depth = depth_at(piece, before)
        return Estimate((end_mm - depth.mean) / height, depth.sd / height)
    total = stretch.part.length_mm / height
    done_high = piece.high(done) if part == piece.index else float(done)
    return Estimate(total - done_high, total * piece.gauge.of((0.0, 1.0, 0.0)).sd / height)


def rounds_by_length(piece: Piece, part: int, before: int) -> int:
    """Whole rounds of a part that ends by its length, one at the least; see left_in."""
    return max(round(left_in(piece, part, before).mean), 1)
