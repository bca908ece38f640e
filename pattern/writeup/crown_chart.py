"""The chart of the crown: one of its equal parts, or the whole of it, in the craft's symbols."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from pattern.session.state import State
from pattern.shape.rounds import Round
from pattern.shape.settings import Settings
from pattern.trade.stitches import STITCHES, Stitch
from pattern.writeup.chart_legend import draw_legend
from pattern.writeup.chart_repeats import Placed, Repeats, repeats
from pattern.writeup.drawing import ACCENT, Canvas, Letters, Picture, Point
from pattern.writeup.stitch_symbols import (
    Band,
    chain_symbol,
    forked,
    slip_symbol,
    stitch_symbol,
)
from pattern.writeup.written_rounds import rounds_counted

_TALL = {Stitch.SINGLE: 2.0, Stitch.HALF_DOUBLE: 2.4, Stitch.DOUBLE: 3.0, Stitch.TREBLE: 3.6}
"""Greatest height of a round over that of the letters."""
_WHOLE = 0.94
"""Share of the turn that a whole round is drawn in; its numbers stand in the gap below."""


def crown(end: State, first: Sequence[Round], letters: Letters) -> Picture:
    """The rounds of the first part up to the widest."""
    widest = max(range(len(first)), key=lambda at: (first[at].after, at))
    rounds, settings = first[: widest + 1], end.settings
    shown, called = repeats(rounds), end.piece.stretches[0].called
    chart = _Chart.of(shown, letters, settings.stitch)
    canvas = Canvas(
        f"Chart of the {called}",
        _words(shown, rounds, called),
        letters,
        width=letters.column_px,
        text=letters.height_px,
    )
    _draw_rounds(canvas, chart, settings)
    _draw_numbers(canvas, chart, joined=settings.joined)
    rest = len(rounds) - len(shown.rounds)
    foot = draw_legend(canvas, settings, shown, chart.legend, rest)
    return canvas.picture(max(foot, chart.foot) + 4)


@dataclass(frozen=True, slots=True)
class _Chart:
    """Where the rounds lie."""

    shown: Repeats
    middle: Point
    step: float
    """Height of a round."""
    legend: Point
    foot: float

    @classmethod
    def of(cls, shown: Repeats, letters: Letters, stitch: Stitch) -> _Chart:
        rounds, text = len(shown.rounds) + 0.6, letters.height_px
        whole = shown.parts == 1
        across = 2.0 if whole else 2 * math.sin(min(math.pi / shown.parts, math.pi / 2))
        beside = letters.beside and not whole
        room = letters.column_px - (16 * text if beside else 0.0) - 5 * text
        most = (18 if whole else 26) * text
        radius = min(rounds * _TALL[stitch] * text, room / across, most)
        middle = (radius * across / 2 + 4, 6 + radius)
        foot = middle[1] + (radius if whole else radius / rounds)
        right = 2 * middle[0] + 4.5 * text
        legend = (right, 6.0) if beside else (4.0, foot + text)
        return cls(shown, middle, radius / rounds, legend, foot)

    @property
    def half(self) -> float:
        """Half the angle of what is drawn, which is symmetric around the top."""
        return math.pi / self.shown.parts * (_WHOLE if self.shown.parts == 1 else 1.0)

    def band(self, number_: int) -> Band:
        return Band(self.middle, (number_ - 0.4) * self.step, (number_ + 0.6) * self.step)

    def angle(self, share: float) -> float:
        """The angle at a share of the round: right-handed rounds run against the clock."""
        return self.half * (1 - 2 * share)


def _draw_rounds(canvas: Canvas, chart: _Chart, settings: Settings) -> None:
    canvas.circle(chart.middle, 0.4 * chart.step, width=1.2)
    plain, shaped, before = "", "", 0
    for number_, steps in enumerate(chart.shown.rounds, 1):
        band, after, at, used = chart.band(number_), sum(one.made for one in steps), 0, 0
        for step in steps:
            if step is not Placed.PLAIN:
                places = (at, after, used, before)
                shaped += _forked(chart, band, settings.stitch, step, places)
            elif chart.shown.plain_shown:
                angle = chart.angle((at + 0.5) / after)
                plain += stitch_symbol(settings.stitch, band, angle, 2 * chart.half / after)
            at, used = at + step.made, used + (2 if step is Placed.DECREASE else 1)
        before = after
        if not chart.shown.plain_shown:
            canvas.circle(chart.middle, band.inner, width=0.6)
        if settings.joined:
            plain += _joining(chart, band, settings)
    canvas.path(plain, width=1.2)
    canvas.path(shaped, width=1.7, ink=ACCENT)


def _forked(
    chart: _Chart, band: Band, stitch: Stitch, step: Placed, places: tuple[int, int, int, int]
) -> str:
    """An increase or a decrease; `places` are the stitch that it makes first, of all in the round,
    and the one that it is made into, of all in the round before.
    """
    at, after, used, before = places
    if step is Placed.INCREASE:
        foot = [band.at(0.08, chart.angle((at + 1) / after))]
        head = [band.at(0.88, chart.angle((at + n + 0.5) / after)) for n in range(2)]
    else:
        foot = [band.at(0.12, chart.angle((used + n + 0.5) / before)) for n in range(2)]
        head = [band.at(0.92, chart.angle((at + 0.5) / after))]
    return forked(stitch, foot, head)


def _joining(chart: _Chart, band: Band, settings: Settings) -> str:
    """The chain and the slip stitch at the beginning of a joined round, beside its first stitch."""
    chains = STITCHES[settings.stitch].turning_chains
    beside = chart.half + 0.45 * chart.step / ((band.inner + band.outer) / 2)
    size = 0.8 * (band.outer - band.inner) / chains
    ovals = "".join(
        chain_symbol(band.at((at + 0.5) / chains * 0.8, beside), size, beside)
        for at in range(chains)
    )
    return ovals + slip_symbol(band.at(0.92, beside), 0.12 * chart.step)


def _draw_numbers(canvas: Canvas, chart: _Chart, *, joined: bool) -> None:
    """The number of each round where it begins, or of every second one and so on."""
    text, count = canvas.text_height, len(chart.shown.rounds)
    every = next((n for n in (1, 2, 5, 10) if n * chart.step > 1.1 * text), 20)
    for number_ in range(every, count + 1, every):
        band = chart.band(number_)
        if chart.shown.parts == 1:
            x, y = band.at(0.5, math.pi)
            canvas.text((x, y + 0.35 * text), f"{number_}", anchor="middle", halo=True)
            continue
        x, y = band.at(0.5, chart.half)
        out = (0.4 + (0.9 * chart.step / text if joined else 0.0)) * text
        canvas.text((x + out, y + 0.35 * text), f"{number_}")


def _words(shown: Repeats, rounds: Sequence[Round], called: str) -> str:
    """The chart in words; its stitches are those of the rounds, which stand beside it."""
    part = f"One of {shown.parts} equal parts" if shown.parts > 1 else "The whole"
    changes = sum(one.sets for one in rounds[: len(shown.rounds)] if not one.decreasing)
    many = rounds_counted(len(shown.rounds))
    return (
        f"{part} of {many} of the {called}, from the middle out, with {changes} "
        f"increase{'s' * (changes != 1)} in all. The rounds say the same in words."
    )
