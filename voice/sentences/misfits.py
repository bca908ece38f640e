"""Tells which parts cannot be as narrow as asked, and how narrow they can be."""

from __future__ import annotations

from pattern.plan.misfits import Misfit, misfit, misfits
from pattern.plan.piece import Piece
from pattern.shape.settings import Settings
from voice.sentences.amounts import counted, joined, with_unit


def planned(piece: Piece) -> str:
    """All that cannot be as asked, for the plan; nothing where all can."""
    return joined(
        *(
            _of_ring(found, piece.settings)
            if found.of_ring
            else f"the {found.called} {_closes(found, piece.settings)}"
            for found in misfits(piece)
        )
    )


def ended(piece: Piece, part: int) -> str:
    """The same of a part that is worked to its end, as near as it comes."""
    found = misfit(piece, part)
    if found is None or piece.stitches > found.stitches:
        return ""
    if found.of_ring:
        return f"that is as narrow as {_stitches(found)} in the ring let it be."
    return f"it {_closes(found, piece.settings)}"


def _closes(found: Misfit, settings: Settings) -> str:
    around = with_unit(found.girth_mm, settings, 8)
    return f"closes at {_stitches(found)}, {around} around."


def _of_ring(found: Misfit, settings: Settings) -> str:
    around = with_unit(found.girth_mm, settings, 8)
    return (
        f"the {found.called} begins with {_stitches(found)}, so it is at least {around} "
        "around: begin with fewer for a narrower one."
    )


def _stitches(found: Misfit) -> str:
    return counted(found.stitches, "stitch", "stitches")
