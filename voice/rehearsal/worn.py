"""The words of a scripted maker who tries the piece on."""

from __future__ import annotations

from dataclasses import replace

from pattern.session.commands import Kind
from pattern.session.state import State
from voice.words.spoken_numbers import say_integer

AROUND: tuple[tuple[float, str], ...] = (
    (-45.0, "it won't go on"),
    (-18.0, "too tight"),
    (-6.0, "it is snug"),
    (7.0, "it fits"),
    (25.0, "a little loose"),
)
"""Slack in mm below which each is said; by judgement, as are those below."""
EDGE: tuple[tuple[float, str], ...] = (
    (-30.0, "it ends at the hairline"),
    (-8.0, "it ends far above the eyebrows"),
    (6.0, "just above the eyebrows"),
    (18.0, "at the eyebrows"),
)
"""Lowness of the edge in mm below which each is said."""


def worn(state: State, around_mm: float, along_mm: float) -> str:
    """The answer of a head as big as was said, where the piece is so wide and so deep."""
    settings, want = state.settings, state.want
    slack = around_mm - settings.girth_mm
    match want.kind if want is not None else None:
        case Kind.FIT:
            return _first(AROUND, slack, "it slides down")
        case Kind.PINCH:
            return f"pinch {say_integer(max(round(slack / 20), 1))} centimetres"
        case Kind.EDGE:
            usual = replace(settings, depth_mm=None)
            return _first(EDGE, along_mm - usual.depth, "below the eyebrows")
    return "the brim falls well"


def _first(table: tuple[tuple[float, str], ...], value: float, last: str) -> str:
    return next((words for below, words in table if value < below), last)
