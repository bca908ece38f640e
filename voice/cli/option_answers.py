"""The answers of the interview that options give."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from typing import Any

from pattern.session import commands as c
from pattern.trade.head_medians import Sex
from voice.cli.option_values import (
    UNITS,
)
from voice.words.typed_text import normalise

_NUMBERS = {
    "across": "across_mm",
    "height": "height_mm",
    "hook": "hook_mm",
    "start": "start",
    "ease": "ease_mm",
    "depth": "depth_mm",
    "brim": "brim_mm",
    "slope": "slope_deg",
    "fullness": "fullness",
    "ball_grams": "ball_g",
    "ball_metres": "ball_m",
    "stash": "stash_g",
}


_WORDS: dict[str, tuple[str, Callable[[Any], Any]]] = {
    "unit": ("unit", lambda name: UNITS[name].value),
    "terms": ("terms", str),
    "shape": ("shape", str),
    "yarn": ("yarn", int),
    "stitch": ("stitch", normalise),
    "fibre": ("fibre", str),
    "joined": ("joined", bool),
    "stacked": ("stacked", bool),
}


def answers(options: argparse.Namespace) -> Sequence[c.Command]:
    """Commands for the options, in an order in which they make sense."""
    said: list[c.Command] = [
        c.Choose(key, convert(getattr(options, name)))
        for name, (key, convert) in _WORDS.items()
        if getattr(options, name) is not None
    ]
    if options.age is not None or options.sex is not None or options.adult:
        said.append(c.HeadOf(options.age, Sex(options.sex) if options.sex else None))
    said += [c.Change("head_mm", head) for head in options.head or ()]
    said += [
        c.Change(key, getattr(options, name))
        for name, key in _NUMBERS.items()
        if getattr(options, name) is not None
    ]
    return [*said, *options.swatch]
