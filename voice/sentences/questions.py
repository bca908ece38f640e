"""The interview: a short question for each setting, and the answer read back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from pattern.shape.interview import BEGIN
from pattern.shape.settings import Settings
from pattern.shape.usual import usual_ease_mm
from pattern.trade.lengths import Unit
from pattern.trade.stitches import Terms, stitch_name
from pattern.trade.yarns_and_hooks import YARNS
from voice.sentences import usual
from voice.sentences.amounts import (
    answered_with_unit,
    decimal,
    joined,
    whole,
    with_article,
    with_unit,
)
from voice.words.spoken_numbers import say_integer

NAMES: dict[str, str] = {
    "unit": "the unit",
    "terms": "the stitch names",
    "shape": "the shape",
    "head_mm": "a head",
    "across_mm": "the width across",
    "height_mm": "the height",
    "yarn": "the class of yarn",
    "hook_mm": "a hook, in millimetres,",
    "stitch": "the stitch",
    "start": "the first round",
    "ease_mm": "the difference to the head",
    "depth_mm": "the depth",
    "brim_mm": "the brim",
    "slope_deg": "the slope, in degrees,",
    "fullness": "the fullness",
    "joined": "the way rounds end",
    "stacked": "the place of increases",
    "age_years": "the age",
    "ball_g": "the weight of a ball, in grams,",
    "ball_m": "the yarn in a ball, in metres,",
    "fibre": "the fibre of the yarn",
    "stash_g": "the weight of the yarn, in grams,",
}
"""Name of each setting in a sentence."""

_QUESTIONS: dict[str, str] = {
    "unit": "Inches or centimetres?",
    "terms": "US or UK stitch names?",
    "across_mm": "How wide across?",
    "height_mm": "How high are the sides, by themselves?",
    "head_mm": (
        "How big is the head, around above the ears? Or say who it's for: a woman, a man, "
        "a girl of six."
    ),
    "yarn": "Which class of yarn, zero to seven? Four is medium.",
    "hook_mm": "What size of hook, in millimetres?",
    "stitch": "Which stitch?",
    "start": "How many stitches in the ring?",
    "ease_mm": "Bigger or smaller than the head, and by how much?",
    "depth_mm": "How deep, from the centre of the crown down along the cloth?",
    "brim_mm": "How wide a brim? Or say no brim.",
    "slope_deg": "How steep does the brim fall, in degrees? Zero is level.",
    "joined": "Spiral, or joined rounds?",
}


BEGIN_OR_CHANGE = usual.BEGIN_OR_CHANGE


def question(key: str, settings: Settings, *, brief: bool) -> str:
    """The question of the interview, with what "skip" would mean."""
    if key == BEGIN:
        return BEGIN_OR_CHANGE if brief else usual.offer(settings)
    asked = _QUESTIONS[key]
    if brief:
        return asked.partition("?")[0] + "?"
    return f"{asked} Skip means {_skipped(key, settings)}."


def _skipped(key: str, settings: Settings) -> str:
    """The usual answer, in words; the usual head in none, since its unit may not be known yet."""
    if key == "head_mm":
        return "a grown head"
    if key == "ease_mm":
        return _ease(replace(settings, ease_mm=usual_ease_mm(settings)))
    return value(key, settings)


def value(key: str, settings: Settings) -> str:
    """The setting as it stands, in words."""
    return _VALUES[key](settings)


def answered(key: str, settings: Settings) -> str:
    """The answer read back, the value first."""
    return joined(f"{value(key, settings)}.")


def _head(settings: Settings) -> str:
    return with_unit(settings.head, settings, 8)


def _ease(settings: Settings) -> str:
    if abs(settings.ease_mm) < 0.5:
        return "the same as the head"
    way = "smaller" if settings.ease_mm < 0 else "bigger"
    return f"{with_unit(abs(settings.ease_mm), settings)} {way} than the head"


def _given(amount: float | None, unit: str, where: str) -> str:
    if amount is None:
        return f"no number of {unit}s {where}"
    return f"{whole(amount)} {unit}{'s' * (amount != 1)} {where}"


_VALUES: dict[str, Callable[[Settings], str]] = {
    "unit": lambda s: {Unit.INCH: "inches", Unit.CM: "centimetres"}.get(s.unit, "millimetres"),
    "terms": lambda s: "US names" if s.terms is Terms.US else "UK names",
    "shape": lambda s: f"a {s.shape.name}",
    "head_mm": _head,
    "across_mm": lambda s: f"{answered_with_unit(s.across, s)} across",
    "height_mm": lambda s: f"{answered_with_unit(s.height, s)} high",
    "yarn": lambda s: f"class {say_integer(s.yarn)}, {YARNS[s.yarn].name}",
    "hook_mm": lambda s: with_article(f"{decimal(s.hook)} millimetre hook"),
    "stitch": lambda s: stitch_name(s.stitch, s.terms),
    "start": lambda s: f"{say_integer(s.increases)} stitches, and as many increases each round",
    "ease_mm": _ease,
    "depth_mm": lambda s: f"{answered_with_unit(s.depth, s)} deep",
    "brim_mm": lambda s: f"a brim of {answered_with_unit(s.brim, s)}" if s.brim else "no brim",
    "slope_deg": lambda s: f"{say_integer(round(s.slope))} degrees",
    "fullness": lambda s: f"fullness {decimal(s.fullness)}",
    "joined": lambda s: "joined rounds" if s.joined else "a spiral",
    "stacked": lambda s: "increases above one another" if s.stacked else "increases spread out",
    "age_years": lambda s: f"age {decimal(s.age_years or 0)}",
    "ball_g": lambda s: _given(s.ball_g, "gram", "in a ball"),
    "ball_m": lambda s: _given(s.ball_m, "metre", "in a ball"),
    "fibre": lambda s: s.fibre.value if s.fibre else "a fibre that I do not know",
    "stash_g": lambda s: _given(s.stash_g, "gram", "of yarn"),
}
