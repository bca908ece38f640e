"""Pictures of a piece: its profile with its measures, and its crown as a round chart."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from pattern.forecast.rest_of_piece import planned_end
from pattern.plan.piece import depth_at
from pattern.session.state import State
from pattern.shape.geometry import Part
from pattern.shape.profile import parts_of
from pattern.shape.profile import profile as stretches_of
from pattern.shape.rounds import Round
from pattern.shape.settings import Settings
from pattern.trade.lengths import Unit
from pattern.writeup.charts import brim_fullness, gauge_over_rounds
from pattern.writeup.drawing import TEXT, WIDTH, Canvas, Picture, Point, number
from pattern.writeup.measure_text import plain_length, spread
from pattern.writeup.outlines import OUTLINES
from pattern.writeup.writeup import Measures, measures

_BENT = 24
"""Steps in which a bend is drawn."""
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
    """The piece from the side; `end` is its planned end, of which `finished` rounds are made."""
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
    """What the maker would have wanted, had it been just what the piece measures."""
    girth = found.girth.mean
    brim = found.brim.mean if found.brim else 0.0
    if not settings.shape.for_head:
        return replace(settings, across_mm=found.across.mean)
    return replace(
        settings, head_mm=girth - settings.ease_mm, depth_mm=found.depth.mean, brim_mm=brim
    )


def meridian(parts: Sequence[Part], reached_mm: float = math.inf) -> Iterator[Point]:
    """Corners of the outline from the middle of the piece outward and down, in mm.

    Bends are drawn in short straight steps; the line stops where `reached_mm` of cloth are used up.
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
    lines = [("Girth", found.girth), ("Across", found.across), ("Depth along cloth", found.depth)]
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
    lines = [f"Thick line: made, {_rounds(finished)}."] if finished else []
    return [*lines, f"Dots: to make, {_rounds(total - finished)}."] if total > finished else lines


def _rounds(count: int) -> str:
    return "1 round" if count == 1 else f"{count} rounds"


def _profile_words(found: Measures, settings: Settings, finished: int, total: int) -> str:
    pairs = iter(_measure_lines(found, settings.unit))
    given = "; ".join(f"{value} {give}" for value, give in zip(pairs, pairs, strict=True))
    made = f"{finished} of {_rounds(total)} made; the rest is as planned."
    return f"{outline_words(settings)}. {given}. {made}"


def outline_words(settings: Settings) -> str:
    """The shape in words: "A flat crown, straight sides, a brim that slopes down"."""
    said, before_mm = [], 0.0
    for stretch in stretches_of(settings):
        wider = stretch.end_girth_mm > before_mm
        said.append(OUTLINES[stretch.stage].words(wider).format(stretch.called))
        before_mm = stretch.end_girth_mm
    words = ", ".join(said)
    return words[0].upper() + words[1:]


def crown(end: State, finished: int) -> Picture:
    """The first part from above, to where it is widest: a ring for each round, a fork for each
    increase."""
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
    """A fork opens outward over an increase, inward over a decrease."""
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
