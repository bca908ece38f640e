"""The picture of a piece from the side, with its measures."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from pattern.plan.piece import depth_at
from pattern.session.state import State
from pattern.shape.geometry import Part
from pattern.shape.profile import parts_of
from pattern.shape.profile import profile as stretches_of
from pattern.shape.settings import Settings
from pattern.trade.lengths import Unit
from pattern.writeup.drawing import WIDTH, Canvas, Picture, Point
from pattern.writeup.measure_text import plain_length, spread
from pattern.writeup.measures import Measures, measures
from pattern.writeup.outlines import OUTLINES
from pattern.writeup.written_rounds import rounds_counted

_BENT = 24
"""Number of straight steps in which a bend is drawn."""


def profile(end: State, finished: int) -> Picture:
    """The piece from the side; `end` is its planned end, with `finished` rounds made so far."""
    piece, found = end.piece, measures(end.piece)
    parts = parts_of(as_found(piece.settings, found))
    made_mm = depth_at(piece, finished).mean if finished else 0.0
    reached = sum(part.length_mm for part in parts) if finished >= piece.finished else made_mm
    points, cut = list(meridian(parts)), list(meridian(parts, reached))
    half, fall = max(x for x, _ in points), max(y for _, y in points)
    scale = min((WIDTH - 40) / 2 / half, 320 / max(fall, 1e-6))
    title = f"The {piece.settings.shape.noun} from the side"
    canvas = Canvas(title, _profile_words(found, piece.settings, finished, piece.finished))

    def place(side: int, point: Point) -> Point:
        return WIDTH / 2 + side * point[0] * scale, 24 + point[1] * scale

    for side in (-1, 1):
        canvas.line([place(side, point) for point in points], width=2, dash="2 6")
        if finished:
            canvas.line([place(side, point) for point in cut], width=5)
    foot = 24 + fall * scale
    canvas.line([place(1, (0, 0)), (WIDTH / 2, foot)], width=1, dash="10 5")
    notes = [*_measure_lines(found, piece.settings.unit), *_made_lines(finished, piece.finished)]
    return canvas.picture(canvas.lines_of_text(notes, foot + 12) + 8)


def as_found(settings: Settings, found: Measures) -> Settings:
    """The settings that would ask for exactly the measures found."""
    girth = found.girth.mean
    brim = found.brim.mean if found.brim else 0.0
    if not settings.shape.for_head:
        return replace(settings, across_mm=found.across.mean)
    return replace(
        settings, head_mm=girth - settings.ease_mm, depth_mm=found.depth.mean, brim_mm=brim
    )


def meridian(parts: Sequence[Part], reached_mm: float = math.inf) -> Iterator[Point]:
    """Corners of the outline, from the centre of the piece outward and down, in mm.

    Bends are drawn in short straight steps. The line stops after `reached_mm` of fabric.
    """
    x = y = 0.0
    yield x, y
    for part in parts:
        length = min(part.length_mm, reached_mm)
        steps = _BENT if part.start_deg != part.end_deg else 1
        for step in range(1, steps + 1):
            along = length * step / steps
            yield x + part.outward_mm(along), y + part.down_mm(along)
        x, y = x + part.outward_mm(length), y + part.down_mm(length)
        reached_mm -= length
        if reached_mm <= 0:
            return


def _measure_lines(found: Measures, unit: Unit) -> list[str]:
    lines = [
        ("Circumference", found.girth),
        ("Across", found.across),
        ("Depth along cloth", found.depth),
    ]
    if found.top is not None:
        lines[:2] = [("Top across", found.top), ("Band around", found.girth)]
    lines += [("Brim", found.brim)] if found.brim else []
    return [
        part
        for name, value in lines
        for part in (
            f"{name}: {plain_length(value.mean, unit)},",
            f"give or take {spread(value.sd, unit)}",
        )
    ]


def _made_lines(finished: int, total: int) -> list[str]:
    lines = [f"Thick line: made, {rounds_counted(finished)}."] if finished else []
    return (
        [*lines, f"Dots: to make, {rounds_counted(total - finished)}."]
        if total > finished
        else lines
    )


def _profile_words(found: Measures, settings: Settings, finished: int, total: int) -> str:
    pairs = iter(_measure_lines(found, settings.unit))
    given = "; ".join(f"{value} {give}" for value, give in zip(pairs, pairs, strict=True))
    made = f"{finished} of {rounds_counted(total)} made; the rest is as planned."
    return f"{outline_words(settings)}. {given}. {made}"


def outline_words(settings: Settings) -> str:
    """The shape in words, such as "A flat crown, straight sides, a brim that slopes down"."""
    said, before_mm = [], 0.0
    for stretch in stretches_of(settings):
        wider = stretch.end_girth_mm > before_mm
        said.append(OUTLINES[stretch.stage].words(wider=wider).format(stretch.called))
        before_mm = stretch.end_girth_mm
    words = ", ".join(said)
    return words[0].upper() + words[1:]
