"""The chart of the crown from above, with a ring for each round."""

from __future__ import annotations

import math
from collections.abc import Sequence

from pattern.session.state import State
from pattern.shape.rounds import Round
from pattern.writeup.drawing import TEXT, WIDTH, Canvas, Picture, Point, number
from pattern.writeup.written_rounds import rounds_counted

TICKED = 1500
"""Most stitches in a crown for which each stitch is drawn; more would run together."""
_GAP = math.tau / 24
"""Half the angle of the wedge at the top that is kept free for the round numbers."""


def crown(end: State, finished: int) -> Picture:
    """The first part from above, up to its widest round.

    Each round is a ring, and each increase a fork.
    """
    first = [made.round for made in end.rounds_made() if made.round.part == 0][::-1]
    widest = max(range(len(first)), key=lambda at: (first[at].after, at))
    rounds = first[: widest + 1]
    title = f"The {end.piece.stretches[0].called} from above"
    canvas = Canvas(title, _crown_words(rounds, finished))
    middle, step = (WIDTH / 2, WIDTH / 2), (WIDTH / 2 - 8) / (len(rounds) + 0.5)
    ticked = sum(one.after for one in rounds) <= TICKED
    for one in rounds:
        radius = (one.number + 0.5) * step
        planned = one.number > finished
        canvas.circle(middle, radius, width=1, dash="4 4" if planned else "")
        marks = _forks(one, middle, radius, step)
        if marks:
            canvas.path(marks, width=2.5)
        if ticked:
            canvas.path(_ticks(one, middle, radius, step), width=1)
    every = math.ceil(1.2 * TEXT / step)
    for one in rounds[every - 1 :: every]:
        at = middle[0], middle[1] - (one.number + 0.5) * step + TEXT / 3
        canvas.text(at, f"{one.number}", anchor="middle", halo=True)
    notes = ["Each ring is a round; numbers count.", "It begins to the right of its number."]
    notes += ["Fork: 2 stitches in 1."] if any(one.before for one in rounds) else []
    notes += ["Fork turned in: 2 stitches into 1."] if any(one.decreasing for one in rounds) else []
    notes += ["Short stroke: a stitch."] if ticked else ["Stitches are too many to draw each."]
    notes += ["Dashed ring: still to make."] if finished < len(rounds) else []
    return canvas.picture(canvas.lines_of_text(notes, WIDTH) + 8)


def _forks(one: Round, middle: Point, radius: float, step: float) -> str:
    """Forks that open outward at increases, and inward at decreases."""
    used = 2 if one.decreasing else 1
    out, inner = radius - 0.1 * step, radius - 0.9 * step
    half = math.tau / (max(one.after, one.before) * (2 if used == 1 else 1)) / 2
    half = max(half, 0.25 * step / radius)
    tip, ends = (out, inner) if one.decreasing else (inner, out)
    path = []
    for place in one.places:
        angle = _turned((place + used / 2) / one.before)
        corners = [
            _polar(middle, ends, angle - half),
            _polar(middle, tip, angle),
            _polar(middle, ends, angle + half),
        ]
        path.append("M" + "L".join(f"{number(x)} {number(y)}" for x, y in corners))
    return "".join(path)


def _ticks(one: Round, middle: Point, radius: float, step: float) -> str:
    path = []
    for stitch in range(one.after):
        angle = _turned((stitch + 0.5) / one.after)
        ends = (_polar(middle, radius + out * step, angle) for out in (-0.12, 0.12))
        path.append("M" + "L".join(f"{number(x)} {number(y)}" for x, y in ends))
    return "".join(path)


def _turned(share: float) -> float:
    """Angle of a place in the round, from the right edge of the wedge to its left edge."""
    return _GAP + (math.tau - 2 * _GAP) * share


def _polar(middle: Point, radius: float, angle: float) -> Point:
    """The point at an angle, measured clockwise from the top."""
    return middle[0] + radius * math.sin(angle), middle[1] - radius * math.cos(angle)


def _crown_words(rounds: Sequence[Round], finished: int) -> str:
    made = sum(one.number <= finished for one in rounds)
    words = [f"{rounds_counted(len(rounds))} of crown as rings, {made} of them made."]
    for one in rounds:
        what = "decreases" if one.decreasing else "increases"
        what = what.removesuffix("s") if one.sets == 1 else what
        change = f"{one.sets} {what}, " if one.before else ""
        words.append(f"Round {one.number}: {change}{one.after} stitches.")
    return " ".join(words)
