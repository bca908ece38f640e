"""Pictures of a piece: its profile with its measures, and its crown as a round chart."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from pattern.ahead import planned_end
from pattern.charts import brim_fullness, gauge_over_rounds
from pattern.drawing import TEXT, WIDTH, Canvas, Picture, Point, number
from pattern.gauge import Estimate
from pattern.lengths import Unit
from pattern.measure_text import plain_length, spread
from pattern.plan import depth_at
from pattern.rounds import Round, Stage
from pattern.session import State
from pattern.shape import Part, hat
from pattern.writeup import Measures, measures

TICKED = 1500
"""Stitches in a crown up to which each is drawn; more would run together."""
_GAP = math.tau / 24
"""Half of the wedge at the top of the crown that is kept free for the numbers of rounds."""


def pictures(state: State) -> tuple[Picture, ...]:
    """Every picture that the piece has something to show in, rounds to come as planned now."""
    end, finished = planned_end(state), state.piece.finished
    found = [profile(end, finished), crown(end, finished)]
    if finished:
        found += [gauge_over_rounds(state, 0), gauge_over_rounds(state, 1)]
    brim = brim_fullness(end, finished)
    return (*found, brim) if brim is not None else tuple(found)


def profile(end: State, finished: int) -> Picture:
    """The hat from the side; `end` is its planned end, of which `finished` rounds are made."""
    piece, found = end.piece, measures(end.piece)
    brim_mm = found.brim.mean if found.brim else 0.0
    parts = hat(found.girth.mean, found.depth.mean, brim_mm, piece.settings.slope_deg)
    made_mm = depth_at(piece, finished).mean if finished else 0.0
    reached = sum(part.length_mm for part in parts) if finished >= piece.finished else made_mm
    points, cut = list(meridian(parts)), list(meridian(parts, reached))
    half, fall = max(x for x, _ in points), max(y for _, y in points)
    scale = min((WIDTH - 40) / 2 / half, 320 / max(fall, 1e-6))
    title = "The hat from the side"
    canvas = Canvas(title, _profile_words(found, piece.settings.unit, finished, piece.finished))

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


def meridian(parts: Sequence[Part], reached_mm: float = math.inf) -> Iterator[Point]:
    """Corners of the outline from the middle of the crown outward and down, in mm.

    Parts are straight; the line stops where `reached_mm` of cloth are used up.
    """
    x = y = 0.0
    yield x, y
    for part in parts:
        length = min(part.length_mm, reached_mm)
        x += part.outward_mm(length)
        y += length * math.sin(math.radians(part.start_deg))
        yield x, y
        reached_mm -= length
        if reached_mm <= 0:
            return


def _measure_lines(found: Measures, unit: Unit) -> list[str]:
    across = Estimate(found.girth.mean / math.pi, found.girth.sd / math.pi)
    lines = [("Girth", found.girth), ("Across", across), ("Depth along cloth", found.depth)]
    lines += [("Brim", found.brim)] if found.brim else []
    return [part for name, value in lines
            for part in (f"{name}: {plain_length(value.mean, unit)},",
                         f"give or take {spread(value.sd, unit)}")]  # fmt: skip


def _made_lines(finished: int, total: int) -> list[str]:
    lines = [f"Thick line: made, {_rounds(finished)}."] if finished else []
    return [*lines, f"Dots: to make, {_rounds(total - finished)}."] if total > finished else lines


def _rounds(count: int) -> str:
    return "1 round" if count == 1 else f"{count} rounds"


def _profile_words(found: Measures, unit: Unit, finished: int, total: int) -> str:
    shape = "A flat crown with straight sides" + (" and a brim that slopes down" if found.brim
                                                  else "")  # fmt: skip
    pairs = iter(_measure_lines(found, unit))
    given = "; ".join(f"{value} {give}" for value, give in zip(pairs, pairs, strict=True))
    return f"{shape}. {given}. {finished} of {_rounds(total)} made; the rest is as planned."


def crown(end: State, finished: int) -> Picture:
    """The crown from above: a ring for each round, a fork for each increase."""
    rounds = [made.round for made in end.rounds_made()
              if made.round.stage in {Stage.RING, Stage.CROWN}][::-1]  # fmt: skip
    canvas = Canvas("The crown from above", _crown_words(rounds, finished))
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
    """A fork opens outward over an increase, inward over a decrease."""
    used = 2 if one.decreasing else 1
    out, inner = radius - 0.1 * step, radius - 0.9 * step
    half = math.tau / (max(one.after, one.before) * (2 if used == 1 else 1)) / 2
    half = max(half, 0.25 * step / radius)
    tip, ends = (out, inner) if one.decreasing else (inner, out)
    path = []
    for place in one.places:
        angle = _turned((place + used / 2) / one.before)
        corners = [_polar(middle, ends, angle - half), _polar(middle, tip, angle),
                   _polar(middle, ends, angle + half)]  # fmt: skip
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
    """The angle of a place in the round, from the right edge of the wedge to the left one."""
    return _GAP + (math.tau - 2 * _GAP) * share


def _polar(middle: Point, radius: float, angle: float) -> Point:
    """Round from the top, clockwise."""
    return middle[0] + radius * math.sin(angle), middle[1] - radius * math.cos(angle)


def _crown_words(rounds: Sequence[Round], finished: int) -> str:
    made = sum(one.number <= finished for one in rounds)
    words = [f"{_rounds(len(rounds))} of crown as rings, {made} of them made."]
    for one in rounds:
        what = "decreases" if one.decreasing else "increases"
        what = what.removesuffix("s") if one.sets == 1 else what
        change = f"{one.sets} {what}, " if one.before else ""
        words.append(f"Round {one.number}: {change}{one.after} stitches.")
    return " ".join(words)
