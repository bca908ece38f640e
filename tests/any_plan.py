"""Any piece that may be asked for: a shape, built in or written by its user, and every answer."""

from __future__ import annotations

import math
from random import Random
from typing import Any

from pattern.errors import BadShape
from pattern.shape.catalogue import SHAPES
from pattern.shape.interview import questions
from pattern.shape.limits import LIMITS
from pattern.shape.part_kinds import PartKind
from pattern.shape.settings import Settings
from pattern.shape.shape_reader import MOST_GIRTHS, MOST_MM
from pattern.shape.shape_text import shape_from
from pattern.trade.stitches import Stitch

_ALWAYS = ("yarn", "hook_mm", "start")
_FIRST = (PartKind.DISC, PartKind.DOME, PartKind.BALL)
_LATER = (PartKind.SIDE, PartKind.TAPER, PartKind.TAPER, PartKind.BRIM)


def any_answers(rng: Random) -> dict[str, Any]:
    """Answers within their limits, by key; the shape comes first."""
    text = rng.choice(SHAPES).name if rng.random() < 0.5 else _own_shape(rng)
    answers: dict[str, Any] = {"shape": text}
    asked = set(questions(Settings(shape=shape_from(text))))
    if rng.random() < 0.5:
        answers["stitch"] = rng.choice(list(Stitch)).value
    answers["stacked"] = rng.random() < 0.3
    for key in (
        "head_mm",
        "across_mm",
        *_ALWAYS,
        "ease_mm",
        "depth_mm",
        "height_mm",
        "brim_mm",
        "slope_deg",
        "fullness",
    ):
        may = key in asked or key in {*_ALWAYS, "fullness"}
        sized = key in {"head_mm", "across_mm"}
        if may and (sized or rng.random() < 0.6):
            answers[key] = _number(rng, key)
    return answers


def _number(rng: Random, key: str) -> float:
    """A number that its limits hold, one time in five at one of their ends."""
    limits = LIMITS[key]
    if rng.random() < 0.2:
        return rng.choice((limits.least, limits.most))
    value = rng.uniform(limits.least, limits.most)
    return float(round(value)) if limits.whole else value


def _own_shape(rng: Random) -> str:
    """A shape as its user may write it, none of which is refused."""
    while True:
        text = _text(rng)
        try:
            shape_from(text)
        except BadShape:
            continue
        return text


def _text(rng: Random) -> str:
    by_width = rng.random() < 0.4
    lines = ['name = "my own"', *([f"across = {_length(rng)}"] if by_width else [])]
    first = rng.choice(_FIRST)
    kinds = [first, *(rng.choice(_LATER) for _ in range(rng.choice((0, 1, 1, 2, 2, 3, 5, 11))))]
    if first is PartKind.BALL:
        kinds = kinds[:1]
    if PartKind.BRIM in kinds:
        kinds = kinds[: kinds.index(PartKind.BRIM) + 1]
    for kind in kinds:
        lines += ["[[part]]", f'kind = "{kind.value}"', *_keys(rng, kind, by_width)]
    return "\n".join(lines) + "\n"


def _keys(rng: Random, kind: PartKind, by_width: bool) -> list[str]:
    asked = '"height"' if by_width else '"depth"'
    girth, length = f"girth = {_measure(rng)}", f"length = {_measure(rng)}"
    if kind is not PartKind.BRIM and rng.random() < 0.3:
        length = f"length = {asked}"
    match kind:
        case PartKind.SIDE:
            return [length]
        case PartKind.TAPER:
            slope = f"slope = {rng.uniform(0, 180):.1f}"
            return [girth, rng.choice((length, slope))]
        case PartKind.BRIM:
            return [length, f"slope = {rng.uniform(0, 85):.1f}"]
        case _:
            return [girth]


def _measure(rng: Random) -> str:
    """A length, or so many girths, near the least more often than near the most."""
    if rng.random() < 0.5:
        return _length(rng)
    return f"{math.exp(rng.uniform(math.log(0.01), math.log(MOST_GIRTHS))):.4f}"


def _length(rng: Random) -> str:
    return f'"{math.exp(rng.uniform(math.log(1.0), math.log(MOST_MM))):.1f} mm"'
