"""A piece after one more round, worked as it was called."""

from __future__ import annotations

import math
from dataclasses import replace

from pattern.gauge.estimate import DRIFT, LOOSENED, LOOSENING
from pattern.gauge.miscount import SLIPS, SLIPS_UNSEEN, came_out
from pattern.gauge.miscount import worked as miscounted
from pattern.plan.part_ends import loosens
from pattern.plan.piece import Piece, girth_of
from pattern.plan.sides import CORRECT_AT_MOST, band_rounds
from pattern.shape.part_kinds import shaping
from pattern.shape.rounds import Round


def advanced(piece: Piece, offered: Round, *, slips_found: bool) -> Piece:
    """The piece after the round; `slips_found` where a count of it was not as called."""
    part, lies = offered.part, shaping(offered.stage)
    first = lies.hangs and piece.rounds_in(part) == 0
    looser = first and not piece.sides_known
    begun = part + 1 - len(piece.worked)
    counts = (*piece.worked, *[0] * begun)
    gauge, miscount = piece.gauge, piece.miscount
    if begins_looser(offered, piece):
        gauge = gauge.loosened(LOOSENED, piece.finished)
    if offered.places:
        gauge, miscount = came_out(gauge, miscount)
    return replace(
        piece,
        miscount=miscounted(miscount, offered.after, SLIPS if slips_found else SLIPS_UNSEEN),
        gauge=gauge.drifted(DRIFT + (LOOSENING if looser else 0.0)),
        stage=offered.stage,
        finished=offered.number,
        stitches=offered.after,
        worked=(*counts[:part], counts[part] + 1),
        edges=(*piece.edges, *[piece.stitches] * begun)[:part],
        edge_girth=piece.edge_girth or (girth_of(piece, piece.stitches) if lies.flared else None),
        look=None,
        band=_band(piece, offered, begins=bool(begun)),
        slip=0,
        sides_known=piece.sides_known and not begun and not _corrected(offered),
    )


def begins_looser(offered: Round, before: Piece) -> bool:
    """Whether the round is the first of sides that are taken to be looser."""
    return len(before.worked) == offered.part > 0 and loosens(before, offered.part - 1)


def _band(piece: Piece, offered: Round, *, begins: bool) -> tuple[int, ...]:
    """The last rounds of the sides that the offered round is one of; more than a band has."""
    if not shaping(offered.stage).straight:
        return ()
    before = () if begins else piece.band
    return (*before, offered.after)[-math.ceil(band_rounds(piece)) - 1 :]


def _corrected(offered: Round) -> bool:
    """Whether the round did all of a correction: one that is capped goes on in the next."""
    change = abs(offered.after - offered.before)
    return 0 < change < max(offered.before // CORRECT_AT_MOST, 1)
