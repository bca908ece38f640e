"""The legend of a chart: the symbols that it uses, and how to read it."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from pattern.shape.settings import Settings
from pattern.trade.stitches import stitch_name
from pattern.writeup.chart_repeats import Placed, Repeats
from pattern.writeup.drawing import ACCENT, INK, Canvas, Point
from pattern.writeup.stitch_symbols import (
    Band,
    chain_symbol,
    forked,
    slip_symbol,
    stitch_symbol,
)
from pattern.writeup.written_rounds import short_name, slip_name

_FAR = 1e4
"""Radius at which a round is as good as straight."""


@dataclass(frozen=True, slots=True)
class _Entry:
    """A symbol, drawn around a point in a square of a size, and its meaning."""

    symbol: Callable[[Point, float], str]
    words: str
    ink: str = INK


def draw_legend(canvas: Canvas, settings: Settings, shown: Repeats, at: Point, rest: int) -> float:
    """Draw the legend from its upper left corner on; returns its foot.

    `rest` is the number of rounds of the part that the chart does not show.
    """
    x, top = at
    text = canvas.text_height
    for entry in _entries(settings, shown):
        symbol = entry.symbol((x + text, top + 0.85 * text), 1.5 * text)
        canvas.path(symbol, width=1.5, ink=entry.ink)
        canvas.text((x + 2.6 * text, top + 1.2 * text), entry.words)
        top += 1.9 * text
    wide = round((canvas.width - x) / (0.6 * text))
    lines = [line for note in _notes(shown, rest) for line in textwrap.wrap(note, wide)]
    return canvas.lines_of_text(lines, top + 0.4 * text, x)


def _entries(settings: Settings, shown: Repeats) -> Iterator[_Entry]:
    stitch, short = settings.stitch, short_name(settings.stitch, settings.terms)
    used = {step for steps in shown.rounds for step in steps}

    def plain(at: Point, size: float) -> str:
        return stitch_symbol(stitch, _straight(at, size), 0.0, size / _FAR)

    def increase(at: Point, size: float) -> str:
        foot, left, right = _corners(at, size, up=True)
        return forked(stitch, (foot,), (left, right))

    def decrease(at: Point, size: float) -> str:
        head, left, right = _corners(at, size, up=False)
        return forked(stitch, (left, right), (head,))

    if shown.plain_shown:
        yield _Entry(plain, f"{short}: {stitch_name(stitch, settings.terms)}")
    if Placed.INCREASE in used:
        yield _Entry(increase, f"2 {short} in one st", ACCENT)
    if Placed.DECREASE in used:
        yield _Entry(decrease, f"{short}2tog", ACCENT)
    if settings.joined:
        yield _Entry(lambda at, size: chain_symbol(at, size, 0.0), "ch: chain")
        slip = slip_name(settings.terms)
        yield _Entry(lambda at, size: slip_symbol(at, size / 4), f"{slip}: slip stitch")


def _straight(at: Point, size: float) -> Band:
    """A straight piece of a round around a point."""
    return Band((at[0], at[1] + size / 2 + _FAR), _FAR, _FAR + size)


def _corners(at: Point, size: float, *, up: bool) -> tuple[Point, Point, Point]:
    """The point where two stems meet, and their other ends."""
    x, y = at
    high = size / 2 if up else -size / 2
    return (x, y + high), (x - size / 3, y - high), (x + size / 3, y - high)


def _notes(shown: Repeats, rest: int) -> Iterator[str]:
    if shown.parts > 1:
        yield f"One of {shown.parts} equal parts: work each round {shown.parts} times around."
        yield "Read from the number on, right to left."
        yield "Left-handed: left to right."
    else:
        yield "Read each round from its number on, against the clock."
        yield "Left-handed: with the clock."
    if not shown.plain_shown:
        yield "Only increases are drawn: all other stitches are plain."
    if rest:
        yield "Work the last rounds as written."
