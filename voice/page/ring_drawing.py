"""The round in work as a ring: its increases or decreases, and the repeats that are worked."""

from __future__ import annotations

import math

from pattern.session.state import State
from pattern.shape.rounds import Round
from pattern.writeup.drawing import LARGE, Canvas, Picture, Point, number

_SIZE, _RADIUS, _BAND = 400.0, 150.0, 34.0
"""Width of the drawing, radius of the ring, and its width."""
_TALLEST, _BROADEST = 168.0, 336.0
"""Most height of the letters of the number inside, and of all its digits together: it is read from
afar, and stays within the ring where a digit is up to 0.75 of its letters wide; our choice."""
_RISE = 0.364
"""Half the height of a digit, over that of the letters; common practice, no source."""
_TICKED = 150
"""Most stitches of which each is drawn; more would run together."""


def ring_drawing(state: State) -> Picture | None:
    """The ring of the round in work; None while there is none."""
    offered = state.offered
    if offered is None or not offered.after:
        return None
    size = min(_TALLEST, _BROADEST / len(f"{offered.number}"))
    canvas = Canvas(f"Round {offered.number}", _words(offered, state.sets), LARGE, text=size)
    middle = (_SIZE / 2, _SIZE / 2)
    for radius in (_RADIUS - _BAND / 2, _RADIUS + _BAND / 2):
        canvas.circle(middle, radius, width=3)
    worked = _share(offered, state.sets)
    if worked:
        canvas.path(_arc(middle, worked), width=_BAND - 8)
    if offered.after <= _TICKED:
        canvas.path("".join(_tick(middle, at / offered.after) for at in range(offered.after)))
    for place in offered.places:
        used = 2 if offered.decreasing else 1
        marks = _mark(middle, (place + used / 2) / offered.before, inward=offered.decreasing)
        canvas.line(marks, width=7)
    at = (middle[0], middle[1] + _RISE * size)
    canvas.text(at, f"{offered.number}", anchor="middle", bold=True)
    return canvas.picture(_SIZE)


def _share(offered: Round, sets: int) -> float:
    """Share of the round that is worked after so many of its repeats."""
    return offered.worked_after(sets) / offered.before if offered.before else 0.0


def _at(middle: Point, radius: float, share: float) -> Point:
    """The point at a share of the round: from the top on, against the clock, as it is worked."""
    angle = math.tau * share
    return middle[0] - radius * math.sin(angle), middle[1] - radius * math.cos(angle)


def _arc(middle: Point, share: float) -> str:
    end = _at(middle, _RADIUS, min(share, 0.999))
    start = _at(middle, _RADIUS, 0.0)
    large, radius = int(share > 0.5), number(_RADIUS)
    return (
        f"M{number(start[0])} {number(start[1])}"
        f"A{radius} {radius} 0 {large} 0 {number(end[0])} {number(end[1])}"
    )


def _tick(middle: Point, share: float) -> str:
    ends = [_at(middle, _RADIUS + out * _BAND, share) for out in (-0.5, -0.2)]
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in ends)


def _mark(middle: Point, share: float, *, inward: bool) -> list[Point]:
    """A V that opens outward for an increase, and inward for a decrease."""
    near, far = _RADIUS + 0.62 * _BAND, _RADIUS + 1.25 * _BAND
    tip, ends = (far, near) if inward else (near, far)
    wide = 0.012
    return [
        _at(middle, ends, share - wide),
        _at(middle, tip, share),
        _at(middle, ends, share + wide),
    ]


def _words(offered: Round, sets: int) -> str:
    kind = "decrease" if offered.decreasing else "increase"
    what = f"{offered.sets} {kind}{'s' * (offered.sets != 1)}" if offered.sets else "plain"
    worked = f", {sets} of {offered.sets} repeats worked" if offered.sets > 1 and sets else ""
    return f"{what.capitalize()}, {offered.after} stitches{worked}."
