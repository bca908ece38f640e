"""The drawing of the finished piece, with its measures at their places."""

from __future__ import annotations

import math
from collections.abc import Sequence

from pattern.session.state import State
from pattern.shape.catalogue import Form
from pattern.shape.settings import Settings
from pattern.writeup.drawing import ACCENT, SHADE, Canvas, Letters, Picture, Point
from pattern.writeup.finished_view import View, arc, outlines
from pattern.writeup.measures import as_found, measures
from pattern.writeup.named_measures import Named, named_measures
from pattern.writeup.outlines import outline_words
from pattern.writeup.written_rounds import rounds_counted

_MERIDIAN = -0.62
"""Sine of the angle at which lengths along the cloth are drawn: right of the front."""
_GAP_PX = 4.0
"""Least distance between two rounds that are drawn."""


def finished_piece(end: State, finished: int, letters: Letters) -> Picture:
    """The piece from the side; `end` is its planned end, with `finished` rounds made so far."""
    piece = end.piece
    settings = as_found(piece.settings, measures(piece))
    named = named_measures(end)
    title = f"The finished {settings.shape.noun}"
    chars = max(len(line) for mark in named for line in (mark.name, mark.value))
    view = View.of(settings, letters, chars)
    canvas = Canvas(
        title,
        _words(piece.settings, named, finished, piece.finished),
        letters,
        width=view.width,
        text=letters.height_px,
    )
    _draw_cloth(canvas, view, settings, piece.finished, finished)
    return canvas.picture(_draw_marks(canvas, view, named, letters))


def _draw_cloth(canvas: Canvas, view: View, settings: Settings, rounds: int, finished: int) -> None:
    """The rounds as fine lines, the outline and the edge as strong ones."""
    if settings.shape.form is Form.HOLLOW:
        canvas.path(arc(view, view.rings[-1], 1.0), width=0, fill=SHADE)
    whole = view.rings[-1].ring.along_mm
    apart = whole / max(rounds, 1)
    every = max(1, math.ceil(_GAP_PX / (apart * view.scale)))
    for number_ in range(every, rounds, every):
        ring = view.ring_at(number_ * apart)
        made = not finished or number_ <= finished
        canvas.path(
            arc(view, ring, ring.sine),
            width=0.8,
            opacity=0.45 if made else 0.3,
            dash="" if made else "2 3",
        )
    for line in outlines(view):
        canvas.curve(line, width=2)
    canvas.path(arc(view, view.rings[-1], view.rings[-1].sine), width=2)


def _draw_marks(canvas: Canvas, view: View, named: Sequence[Named], letters: Letters) -> float:
    """Draw the measures with their numbers; returns the height of the picture.

    The numbers stand at the right, or under letters below where there is no room.
    """
    anchors = [(_draw_mark(canvas, view, mark), mark) for mark in named]
    ordered = sorted(anchors, key=lambda one: one[0][1])
    if letters.beside:
        return max(_draw_beside(canvas, view, ordered), view.foot + 10)
    lines = []
    for letter, ((x, y), mark) in zip("ABCDEF", ordered, strict=False):
        at = (x + 0.3 * canvas.text_height, y - 0.2 * canvas.text_height)
        canvas.text(at, letter, ink=ACCENT, bold=True, halo=True)
        lines.append(f"{letter}  {mark.name}: {mark.value}")
    return canvas.lines_of_text(lines, view.foot + canvas.text_height) + 10


def _draw_beside(canvas: Canvas, view: View, ordered: Sequence[tuple[Point, Named]]) -> float:
    """Draw the numbers at the right, each led to its place; returns the foot of the last."""
    line, foot = 1.3 * canvas.text_height, 0.0
    for (x, y), mark in ordered:
        top = max(y - line, foot)
        canvas.line([(x, y), (view.labels_x - 5, top + line)], width=0.8, ink=ACCENT, dash="1 3")
        canvas.text((view.labels_x, top + 0.8 * line), mark.name)
        canvas.text((view.labels_x, top + 1.8 * line), mark.value, ink=ACCENT, bold=True)
        foot = top + 2.7 * line
    return foot


def _draw_mark(canvas: Canvas, view: View, mark: Named) -> Point:
    """Draw one measure in the accent; returns the point that its words are led to."""
    if mark.begin_mm is not None:
        run = [
            ring for ring in view.rings if mark.begin_mm <= ring.ring.along_mm <= mark.end_mm + 1e-6
        ]
        points = [view.at(ring, _MERIDIAN) for ring in run if ring.sine >= _MERIDIAN]
        points = points or [view.at(run[-1], run[-1].sine)]
        canvas.line(points, width=1.8, ink=ACCENT)
        for end in (points[0], points[-1]):
            canvas.circle(end, 2.6, filled=True, ink=ACCENT)
        return points[len(points) * 2 // 3]
    ring = view.ring_at(mark.end_mm)
    if mark.around:
        canvas.path(arc(view, ring, min(ring.sine, 0.0)), width=1.8, ink=ACCENT)
        return view.at(ring, max(min(ring.sine, 0.0), -1.0) * 0.5 - 0.1)
    ends = [view.at(ring, 0.0, -1), view.at(ring, 0.0, 1)]
    canvas.line(ends, width=1.8, ink=ACCENT)
    for end in ends:
        canvas.circle(end, 2.6, filled=True, ink=ACCENT)
    return ends[1]


def _words(settings: Settings, named: Sequence[Named], finished: int, total: int) -> str:
    given = "; ".join(f"{mark.name.lower()} {mark.value}" for mark in named)
    made = "" if finished >= total else f" {finished} of {rounds_counted(total)} made so far."
    outline = outline_words(settings)
    return f"{outline[0].upper()}{outline[1:]}. Measures: {given}.{made}"
