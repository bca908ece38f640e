"""Hands that changed: a piece taken up after days, or by somebody else."""

from __future__ import annotations

from pattern.plan.piece import Piece, girth_of
from pattern.session.state import State
from pattern.shape.rounds import Stage
from voice.sentences.amounts import about_with_unit, counted, joined

_LIES = {Stage.SIDES: "hang straight", Stage.BRIM: "fall evenly"}
"""How the edge lies, by the part that was worked last; the crown lies flat."""


def left_alone(days: float, state: State) -> str:
    """What a long rest of the piece means; the place and the last reading follow."""
    since = f"it has been {counted(int(days), 'day')}." if days < 1000 else "it has been long."
    read = next(state.readings_taken(), None) is not None
    return joined(
        since, looks(state.piece), "Hands change: measure again soon." if read else "Measure soon."
    )


def others(after: State) -> str:
    """Somebody else goes on: what they have in hand, and what is asked of them."""
    asks = "Go on: I ask for a reading after two rounds." if after.recheck else ""
    return joined("other hands.", "" if after.brief else joined(looks(after.piece), asks))


def looks(piece: Piece) -> str:
    """What the fabric should look like now, so that it is seen to be the right piece and place."""
    if not piece.finished:
        return ""
    across = about_with_unit(piece.gauge.of((0.0, 2.0 * piece.finished, 2.0)).mean, piece.settings)
    around = about_with_unit(girth_of(piece, piece.stitches).mean, piece.settings)
    if piece.stage in {Stage.RING, Stage.CROWN}:
        return f"It should lie flat, about {across} across."
    return f"It should {_LIES.get(piece.stage, 'be even')}, about {around} around."
