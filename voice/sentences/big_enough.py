"""Whether the piece is deep, wide or far enough: yes, or how much is missing, and then the size."""

from __future__ import annotations

from pattern.plan.next_round import next_part, rounds_of
from pattern.plan.piece import Piece, depth_at, girth_of
from pattern.session.commands import Kind
from pattern.session.state import State
from pattern.shape.rounds import Stage
from voice.sentences import size_now
from voice.sentences.amounts import (
    about,
    about_with_unit,
    counted,
    joined,
    length,
    roughly,
)
from voice.sentences.early_end import Size, of_part
from voice.sentences.measured_now import measured_now


def part(state: State) -> str:
    """The part in work, by its own size, with the rounds that are missing first."""
    if _not_begun(state):
        return size_now.told(state)
    piece, here = state.piece, next_part(state.piece)
    left = rounds_of(piece, here, piece.finished) if here is not None and state.offered else 0
    return _told(_of_part(state), state, counted(left, "more round") if left else "")


def deep(state: State) -> str:
    """The depth of the sides, also while what comes before them is worked; else the part."""
    piece = state.piece
    wanted_mm = next((s.end_depth_mm for s in piece.stretches if s.end_depth_mm is not None), None)
    if _not_begun(state) or wanted_mm is None or _at_brim(state):
        return _whole(state)
    now_mm = depth_at(piece, piece.finished).mean
    size = Size("", Kind.DEPTH, "deep", now_mm, wanted_mm, wanted_mm - now_mm)
    return _told(size, state)


def wide(state: State) -> str:
    """The width of a crown or a brim; of sides the distance around; else the part."""
    piece = state.piece
    hangs = piece.shaping.hangs and not _at_brim(state)
    if _not_begun(state) or not hangs:
        return _whole(state)
    now_mm, wanted_mm = girth_of(piece, piece.stitches).mean, piece.settings.girth_mm
    return _told(Size("", Kind.AROUND, "around", now_mm, wanted_mm, wanted_mm - now_mm), state)


def _not_begun(state: State) -> bool:
    return state.stage is Stage.SETUP or not state.piece.finished


def _at_brim(state: State) -> bool:
    return state.piece.brim_rounds > 0 or state.offered is None


def _whole(state: State) -> str:
    """The part in work by its size alone."""
    return size_now.told(state) if _not_begun(state) else _told(_of_part(state), state)


def _of_part(state: State) -> Size:
    piece = state.piece
    brim = piece.shaping.flared or next_part(piece) is None
    return _brim(piece) if brim else of_part(state)


def _brim(piece: Piece) -> Size:
    now_mm = piece.high(piece.brim_rounds) * piece.gauge.height_mm
    wanted_mm = piece.settings.brim
    return Size("brim", Kind.BRIM, "wide", now_mm, wanted_mm, wanted_mm - now_mm)


def _told(size: Size, state: State, missing: str = "") -> str:
    """Yes or what is missing; then how big it is, and how big it should be."""
    settings = state.settings
    exact = size.kind in {Kind.DEPTH, Kind.BRIM}
    wanted = length(size.wanted_mm, settings, 8) if exact else about(size.wanted_mm, settings)
    now = f"{size.now(state)} {size.way}"
    missing_mm = _missing_mm(size, state)
    if missing_mm < state.piece.gauge.height_mm / 2:
        return joined(f"yes: {now}, and {wanted} is wanted.")
    lacks = missing or f"{about_with_unit(missing_mm, settings)} to go"
    return joined(f"not yet: about {lacks}.", f"it is {now}; {wanted} is wanted.")


def _missing_mm(size: Size, state: State) -> float:
    """So that it and the size now, as both are said, come to what is wanted."""
    now_mm = measured_now(state).get(size.kind) or roughly(size.now_mm, state.settings)
    narrows = size.lacks_mm * (size.wanted_mm - size.now_mm) < 0
    return now_mm - size.wanted_mm if narrows else size.wanted_mm - now_mm
