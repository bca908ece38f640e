"""Hands that changed: a piece taken up after days, or by somebody else."""

from __future__ import annotations

from pattern.plan.piece import Piece, girth_of
from pattern.session.state import State
from voice.sentences.amounts import about_with_unit, counted, joined
from voice.sentences.part_words import PART_WORDS


def left_alone(days: float, state: State) -> str:
    """The effect of a long rest of the piece; the place and the last reading follow."""
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
    """The look that the fabric should have now, to check that piece and place are right."""
    if not piece.finished:
        return ""
    across = about_with_unit(piece.gauge.of((0.0, 2.0 * piece.finished, 2.0)).mean, piece.settings)
    around = about_with_unit(girth_of(piece, piece.stitches).mean, piece.settings)
    size = f"{across} across" if piece.shaping.flat else f"{around} around"
    return f"It should {PART_WORDS[piece.stage].looks}, about {size}."
