"""Why an amount makes no sense: its range, its unit, or the piece that it is told of."""

from __future__ import annotations

from pattern.shape.limits import LIMITS
from pattern.shape.settings import Settings
from voice.sentences import amounts
from voice.sentences.amounts import with_unit
from voice.sentences.questions import NAMES
from voice.words.spoken_numbers import say_integer

Detail = dict[str, str | float | int]
"""The facts of a refusal."""


def limits(detail: Detail, settings: Settings) -> str:
    """The range of an answer."""
    key = str(detail["key"])
    if key == "age_years":
        return "I know ages from zero to a hundred and twenty; say another."
    allowed, name = LIMITS[key], NAMES[key]
    if allowed.tape:
        low, high = amounts.limits(allowed.least, allowed.most, settings)
        if allowed.least < 0:
            return f"{name} can be at most {high} more or less; say another."
        return f"{name} can be {low} to {high}; say another."
    low, high = say_integer(int(allowed.least)), say_integer(int(allowed.most))
    if key == "fullness":
        return f"{name} can be point seven to two; say another."
    return f"{name} can be {low} to {high}; say another."


_UNITS_OF = {
    "ball_g": "grams or ounces",
    "stash_g": "grams or ounces",
    "ball_m": "metres or yards",
    "hook_mm": "millimetres",
    "yarn": "a class from zero to seven, or the name of the yarn",
    "start": "a number of stitches",
    "slope_deg": "degrees",
    "age_years": "years",
    "fullness": "a plain number",
}
"""The way to say the answers that are not in the tape's units."""


def wrong_unit(detail: Detail) -> str:
    """The unit that an answer can't have, and how to say it instead."""
    right = _UNITS_OF.get(str(detail.get("key")), "inches, centimetres or millimetres")
    return f"That can't be in {_many(detail)}; give me {right}."


def other_unit(detail: Detail) -> str:
    """The unit in which a bare number would make sense, though another one holds."""
    return f"I take lengths in another unit; did you mean {_many(detail)}? Say the unit with it."


def _many(detail: Detail) -> str:
    """The name of the unit, of many."""
    unit = str(detail["unit"]).replace("meter", "metre")
    return f"{unit}es" if unit.endswith("ch") else f"{unit}s"


def odd_length(detail: Detail, settings: Settings) -> str:
    """The length that was expected instead."""
    expected = with_unit(float(detail["expected_mm"]), settings, 8)
    return f"That cannot be this piece: I expect about {expected}. Measure again."
