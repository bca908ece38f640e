"""Changes of the fit in words: a bit looser, as big as the head. Words: common usage, no source."""

from __future__ import annotations

import re
from dataclasses import replace

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.usual import usual_ease_mm
from pattern.trade.lengths import TAPE_UNITS, Amount, Unit
from voice.words.free.amounts import MASK, amounts, masked

_BIT: dict[Unit, float] = {Unit.INCH: 0.5, Unit.CM: 1.0, Unit.MM: 10.0}
"""A bit of a fit, in each unit; our choice."""
_LOOSER = r"\b(?:looser|roomier|bigger around|wider around|less tight|not (?:so|as) tight)\b"
_TIGHTER = r"\b(?:tighter|snugger|closer|less loose|not (?:so|as) loose)\b"
_AS_THE_HEAD = (
    r"\b(?:as big as|the same as|the size of|the same size as|no smaller than|exactly) "
    r"(?:the|my|his|her|their) head\b"
)
_WANTS = (
    r"\b(?:make|can|could|want|would like|needs?|please|let us|shall we|how about|have|fit|a bit"
    r"|a little|slightly|rather)\b"
)
_OTHER = r"\b(?:tension|hook|stitch(?:es)?|work(?:ing)?|brim|crochet(?:ing)?|yarn|ring)\b"
"""Words of things that are looser or tighter than a fit."""


def fit_change(words: str, state: State) -> c.Change | None:
    """The difference to the head that plain words want; None where they want none."""
    settings = state.settings
    if not settings.shape.for_head or re.search(_OTHER, words):
        return None
    if amounts(words):
        return _than_the_head(words)
    if re.match(r"(?:is|are|will|would|why|should|does|do|did|what|how (?!about))\b", words):
        return None
    if not re.search(_WANTS, words):
        return None
    if re.search(_AS_THE_HEAD, words):
        return c.Change("ease_mm", Amount(0.0))
    looser = re.search(_LOOSER, words) is not None
    if looser == (re.search(_TIGHTER, words) is not None):
        return None
    unit = settings.unit
    said = "ease_mm" in state.answered
    ease_mm = settings.ease_mm if said else usual_ease_mm(settings)
    now = ease_mm / Amount(1.0, unit=unit).mm(unit)
    bit = _BIT.get(unit, 10.0)
    return c.Change("ease_mm", Amount(round(now + (bit if looser else -bit), 3), 0.25))


_THAN = (
    r"(?:(?:make|make it|i want it|i would like it|it should be|please|let us have it|to be|about"
    rf"|have it) )*{MASK} (?P<way>bigger|larger|wider|looser|roomier|smaller|tighter|snugger"
    r"|narrower|less) than (?:(?:the|my|his|her|their) )?(?:own )?head(?: size)?"
    r"(?: please| then| around| instead)*"
)


def _than_the_head(words: str) -> c.Change | None:
    """By how much it is to be bigger or smaller than the head; None for other words."""
    found, told = re.fullmatch(_THAN, masked(words)), amounts(words)
    if found is None or len(told) != 1 or told[0].unit not in {None, *TAPE_UNITS}:
        return None
    less = found["way"] in {"smaller", "tighter", "snugger", "narrower", "less"}
    return c.Change("ease_mm", replace(told[0], value=-told[0].value if less else told[0].value))
