"""Decides on where the edge of a piece that is tried on ends on the head."""

from __future__ import annotations

from pattern.plan.asking import LAST_MM
from pattern.plan.early_end import end_now
from pattern.plan.readings import girth_finished
from pattern.plan.trying_on import edge_reading
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.folding import Decided, Turn, Unfolding, unfolding
from pattern.session.next_offer import offered_after, reopened
from pattern.session.state import State
from pattern.shape.fits import OUTRIGHT, Fit, Word
from pattern.shape.limits import LIMITS
from pattern.shape.reading_kinds import Kind
from pattern.shape.rounds import Stage


def edge_seen(state: State, command: c.TriedOn, known: Turn, word: Word) -> Decided:
    """A reading of the depth that settles, after a question where the sides would end much too
    soon; `known` goes before it.
    """
    if "depth_mm" not in state.settings.shape.asked:
        return _band_ends(state, command, known)
    settled = offered_after(unfolding(state, *known, *_edge(state, command.fit, word)))
    if command.fit not in OUTRIGHT and _far_too_soon(state, settled.now):
        after = state.piece.stretches[state.piece.index + 1 :]
        there = after[0] if after else None
        return (e.FinishDoubted() if there is None else e.StartDoubted(there.stage),)
    return _measured_last(settled)


def _far_too_soon(before: State, after: State) -> bool:
    """Whether a word of the edge ends the sides, though much of them is still to be made."""
    piece = before.piece
    ended = after.offered is None or after.offered.part != piece.index
    return ended and end_now(piece, piece.index, piece.stitches).much_off


def _band_ends(state: State, command: c.TriedOn, known: Turn) -> Decided:
    """A band of a depth of its own ends where it is said to be deep enough; else only an answer."""
    ends = command.fit is Fit.DEEP and state.stage is not Stage.FINISHING and not state.sets
    return (*known, e.StageStarted(Stage.FINISHING)) if ends else ()


def _measured_last(so_far: Unfolding) -> Unfolding:
    """The turn, with a last reading around where the sides end sooner than was thought."""
    now, piece = so_far.now, so_far.now.piece
    ended = now.offered is None or now.offered.part != piece.index
    if not ended or not now.means.tape or 2 * girth_finished(piece).sd <= LAST_MM:
        return reopened(so_far)
    return so_far.then(e.ReadingWanted(Kind.AROUND))


def _edge(state: State, fit: Fit, word: Word) -> Turn:
    """Where the edge ends, and the depth that settles: one that the maker chose stays, unless the
    new one is said outright.
    """
    seen = any(taken.reading.kind is Kind.EDGE for taken in state.readings_taken())
    reading = edge_reading(state.piece, state.settings, fit, word, seen_before=seen)
    own = state.settings.depth_mm is not None and "depth_mm" not in state.fitted
    chosen = own and fit not in OUTRIGHT
    settles = "depth_mm" in state.settings.shape.asked and not chosen
    depth = (sized("depth_mm", reading.value_mm),) if settles else ()
    return (e.ReadingTaken(reading), *depth)


def sized(key: str, value_mm: float) -> e.SizeFitted:
    """A size that was found on the head, within the limits of the answer."""
    limits = LIMITS[key]
    return e.SizeFitted(key, min(max(value_mm, limits.least), limits.most))
