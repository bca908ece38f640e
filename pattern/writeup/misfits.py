"""The paragraph of a write-up on parts that cannot be as narrow as asked."""

from __future__ import annotations

from pattern.plan.misfits import Misfit, misfits
from pattern.plan.piece import Piece
from pattern.writeup.document import Paragraph
from pattern.writeup.measure_text import plain_length
from pattern.writeup.written_rounds import stitches


def misfitting(piece: Piece, of: str = "") -> tuple[Paragraph, ...]:
    """Closest sizes for parts that cannot be as asked; empty if all can. `of` names the size."""
    lines = [_line(found, piece) for found in misfits(piece)]
    return (Paragraph(of + " ".join(lines)),) if lines else ()


def _line(found: Misfit, piece: Piece) -> str:
    unit = piece.settings.unit
    around, asked = (plain_length(mm, unit) for mm in (found.girth_mm, found.wanted_mm))
    if found.of_ring:
        return (
            f"The {found.called} cannot be {asked} around: it begins with "
            f"{stitches(found.stitches)}, {around} around. Begin with fewer for a narrower "
            "one."
        )
    return (
        f"The {found.called} closes at {stitches(found.stitches)}, {around} around; "
        f"{asked} were asked for."
    )
