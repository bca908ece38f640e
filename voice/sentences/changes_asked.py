"""Questions before a size is changed, with the rounds that it takes where it is in work."""

from __future__ import annotations

from typing import Any

from pattern.plan.piece import depth_at
from pattern.session.state import State
from pattern.shape.limits import IN_GRAMS, LIMITS
from pattern.trade.lengths import BALL_UNITS, Amount, grams, metres
from voice.sentences.amounts import counted, whole, with_unit
from voice.sentences.questions import NAMES

_SAME_MM = 0.5
"""A change within this of a round's height is told as a round; our choice."""


def change(command: Any, state: State) -> str:  # noqa: ANN401 - by the table of questions
    """A setting and its new value."""
    name = NAMES.get(command.key, command.key.replace("_", " "))
    if not LIMITS[command.key].tape:
        return f"{name} {whole(_in_base(command.key, command.amount))}"
    length_mm = command.amount.mm(state.settings.unit)
    length = with_unit(length_mm, state.settings)
    if (many := _more_rounds(command.key, length_mm, state)) > 0:
        return f"{counted(many, 'more round')}, and a {name.removeprefix('the ')} of {length}"
    return f"{name}: {length}"


def _in_base(key: str, amount: Amount) -> float:
    """The amount in the unit that its name says."""
    if key in IN_GRAMS:
        return grams(amount)
    return metres(amount) if amount.unit in BALL_UNITS else amount.value


def adjust(command: Any, state: State) -> str:  # noqa: ANN401
    """More or less of a size; where it is a round's height, the whole size."""
    settings = state.settings
    by_mm = command.amount.mm(settings.unit)
    part = "depth" if command.key == "depth_mm" else "brim"
    if not command.less and abs(by_mm - state.piece.gauge.height_mm) < _SAME_MM:
        whole_mm = by_mm + (settings.depth if part == "depth" else settings.brim)
        return f"one round more, and a {part} of {with_unit(whole_mm, settings)}"
    return f"{with_unit(by_mm, settings)} {'less' if command.less else 'more'} of {part}"


def _more_rounds(key: str, length_mm: float, state: State) -> int:
    """The rounds that a brim or sides in work would still take to be so wide, or so deep."""
    piece = state.piece
    if state.offered is None:
        return 0
    height_mm = piece.gauge.height_mm
    if key == "brim_mm" and piece.shaping.flared:
        return round(length_mm / height_mm - piece.high(piece.brim_rounds))
    if key == "depth_mm" and piece.shaping.hangs:
        return round((length_mm - depth_at(piece, piece.finished).mean) / height_mm)
    return 0
