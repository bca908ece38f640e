"""Charts over the rounds: the gauge with its readings, and the fullness of the brim."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from pattern.gauge.estimate import Estimate, Gauge
from pattern.plan.piece import Piece, fullness
from pattern.plan.readings import noise_mm, row_of
from pattern.session.state import State
from pattern.shape.part_kinds import shaping
from pattern.writeup.axes import Axes, draw_axes
from pattern.writeup.drawing import INK, REGULAR, SHADE, WIDTH, Canvas, Letters, Picture
from pattern.writeup.readings_tables import measured

_NAMES = ("Stitch width", "Round height")


@dataclass(frozen=True, slots=True)
class Said:
    """Stitch width or round height implied by one reading alone, in mm."""

    after_round: int
    value: Estimate
    words: str


def gauges(state: State) -> list[Gauge]:
    """The gauge as it was known after each round, from round 0 on, including readings.

    Each round keeps the piece from before it, so nothing is recomputed: looks, counts and rounds
    taken out are included as they came.
    """
    return [state.piece.gauge, *(made.before.gauge for made in state.rounds_made())][::-1]


def readings_say(state: State, known: Sequence[Gauge], which: int) -> list[Said]:
    """The value implied by each reading of remaining rounds, given the ring radius known then."""
    found = []
    for taken in reversed(list(state.readings_taken())):
        reading = taken.reading
        if taken.after_round >= len(known) or not reading.tells_gauge:
            continue
        row = row_of(reading, state.piece.corners)
        if row[which] == 0:
            continue
        ring = row[2] * known[taken.after_round].ring_mm
        noise = noise_mm(reading.kind, reading.value_mm, reading.step_mm)
        value = Estimate((reading.value_mm - ring) / row[which], noise / row[which])
        found.append(Said(taken.after_round, value, measured(reading)))
    return found


def gauge_over_rounds(state: State, which: int, letters: Letters = REGULAR) -> Picture:
    """Stitch width (`which` 0) or round height (1) over the rounds, with its band and readings."""
    known = gauges(state)
    row = (1.0, 0.0, 0.0) if which == 0 else (0.0, 1.0, 0.0)
    band = [gauge.of(row) for gauge in known]
    said = readings_say(state, known, which)
    title = f"{_NAMES[which]} over the rounds, as it was learned"
    canvas = Canvas(title, _gauge_words(band, said, _NAMES[which]), letters)
    shown = [*band, *(one.value for one in said if _near(one.value, band))]
    axes = _axes(len(known) - 1, shown)
    _draw_band(canvas, axes, list(enumerate(band)))
    draw_axes(canvas, axes, f"{_NAMES[which]}, mm", "round")
    for one in said:
        _draw_reading(canvas, axes, one)
    notes = ["Line: what was believed.", "Grey: give or take, two in three."]
    dots = ["Dots: what each reading said alone;", "bars: its give or take."]
    notes += dots if said else ["No reading is in this yet."]
    return canvas.picture(canvas.lines_of_text(notes, axes.foot) + 8)


def _near(value: Estimate, band: Sequence[Estimate]) -> bool:
    """Whether a reading is near enough to be drawn in place; others are drawn at the edge."""
    least = min(one.mean - 4 * one.sd for one in band)
    return least <= value.mean <= max(one.mean + 4 * one.sd for one in band)


def _axes(rounds: int, shown: Sequence[Estimate]) -> Axes:
    least = min(one.mean - one.sd for one in shown)
    most = max(one.mean + one.sd for one in shown)
    room = max(0.08 * (most - least), 0.02 * abs(most), 1e-3)
    return Axes(rounds, max(least - room, 0.0), most + room)


def _draw_band(canvas: Canvas, axes: Axes, band: Sequence[tuple[int, Estimate]]) -> None:
    upper = [axes.at(at, one.mean + one.sd) for at, one in band]
    lower = [axes.at(at, one.mean - one.sd) for at, one in band]
    canvas.line([*upper, *lower[::-1]], width=0.5, fill=SHADE, ink=SHADE)
    canvas.line(upper, width=1, dash="3 3")
    canvas.line(lower, width=1, dash="3 3")
    canvas.line([axes.at(at, one.mean) for at, one in band], width=3)


def _draw_reading(canvas: Canvas, axes: Axes, said: Said) -> None:
    """Draw a dot with its spread, or an open arrowhead for a value beyond the chart."""
    at, value = said.after_round, said.value
    x, y = axes.at(at, value.mean)
    if axes.least <= value.mean <= axes.most:
        bars = [axes.at(at, value.mean - value.sd), axes.at(at, value.mean + value.sd)]
        canvas.line(bars, width=2)
        canvas.circle((x, y), 5, filled=True)
        return
    out = -8 if value.mean > axes.most else 8
    canvas.line([(x - 6, y - out), (x, y), (x + 6, y - out)], width=3)


def _gauge_words(band: Sequence[Estimate], said: Sequence[Said], name: str) -> str:
    first, last = _mm(band[0]), _mm(band[-1])
    shown = (
        f"A line over {len(band) - 1} rounds with a grey band of give or take: {name.lower()} "
        f"was taken as {first} before round 1 and as {last} at the end."
    )
    words = [
        f"After round {one.after_round}, {one.words}: by itself {_mm(one.value)}." for one in said
    ]
    return " ".join([shown, *(words or ["No reading of it has been taken."])])


def _mm(value: Estimate) -> str:
    return f"{value.mean:.2f} mm, give or take {max(value.sd, 0.01):.2f} mm"


def brim_pieces(end: State) -> Iterator[Piece]:
    """The piece after each round of its brim, with the gauge that is known now."""
    rounds = [made for made in end.rounds_made() if shaping(made.round.stage).flared][::-1]
    for count, made in enumerate(rounds, 1):
        stitches = made.round.after if made.counted is None else made.counted
        worked = (*end.piece.worked[:-1], count)
        yield replace(
            end.piece,
            stitches=stitches,
            stage=made.round.stage,
            worked=worked,
            finished=made.round.number,
        )


def brim_fullness(end: State, finished: int, letters: Letters = REGULAR) -> Picture | None:
    """Fullness of the brim after each of its rounds; None without a brim.

    `end` is the piece at its planned end, with `finished` rounds made so far.
    """
    pieces = list(brim_pieces(end))
    if not pieces:
        return None
    full = [fullness(piece, piece.stitches, piece.brim_rounds) for piece in pieces]
    made = sum(piece.finished <= finished for piece in pieces)
    words = _brim_words(pieces, full, made)
    canvas = Canvas("Fullness of the brim over its rounds", words, letters)
    axes = _axes(len(pieces), [*full, Estimate(1.0, 0.05)])
    _draw_band(canvas, axes, list(enumerate(full, 1)))
    draw_axes(canvas, axes, "Fullness; 1 is as wanted", "round of the brim")
    canvas.line([axes.at(0, 1), axes.at(len(pieces), 1)], width=1.5, dash="10 5")
    step = math.ceil(len(pieces) / (WIDTH / 14))
    for at, one in list(enumerate(full, 1))[::step]:
        canvas.path(_mark(axes.at(at, one.mean), made=at <= made), width=2, fill=INK)
    notes = ["Long dashes: fullness 1."]
    notes += ["Squares: rounds made."] if made else []
    notes += ["Upright bars: rounds still to make."] if made < len(pieces) else []
    notes += ["Above 1 it ripples, below it cups."]
    return canvas.picture(canvas.lines_of_text(notes, axes.foot) + 8)


def _mark(at: tuple[float, float], *, made: bool) -> str:
    x, y = at
    return f"M{x - 4:.1f} {y - 4:.1f}h8v8h-8z" if made else f"M{x:.1f} {y - 8:.1f}v16"


def _brim_words(pieces: Sequence[Piece], full: Sequence[Estimate], made: int) -> str:
    values = [
        f"round {piece.finished}, {piece.stitches} stitches, {one.mean:.2f}, "
        f"give or take {max(one.sd, 0.01):.2f}"
        for piece, one in zip(pieces, full, strict=True)
    ]
    return (
        f"Fullness over the {len(pieces)} rounds of the brim, {made} of them made; 1 lies as "
        f"wanted, more ripples and less cups: {'; '.join(values)}."
    )
