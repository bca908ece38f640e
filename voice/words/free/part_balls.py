"""Yarn that is left told as a part of a ball. Words: common usage, no source."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.state import State
from pattern.trade.lengths import Amount, Unit

_PARTS = {
    "two thirds": 2 / 3,
    "three quarters": 3 / 4,
    "half": 1 / 2,
    "third": 1 / 3,
    "quarter": 1 / 4,
}
_EXACT = 0.1
"""How exactly a part of a ball is told by eye, in balls; our choice."""
_TOLD = rf"\b(?P<part>{'|'.join(_PARTS)})(?: of)? (?:a |the |this |my |one )?ball\b"
_LEFT = r"\b(?:left|remaining|have|got|still)\b"


def part_of_ball(words: str, state: State) -> c.Command | None:
    """The weight of a part of a ball; where no ball was told of, whether the yarn lasts, which says
    what to tell. None for any other words.
    """
    told = re.search(_TOLD, words)
    if told is None or not re.search(_LEFT, words):
        return None
    if (ball_g := state.settings.ball_g) is None:
        return c.Ask(c.Asked.ENOUGH)
    return c.Weighed(Amount(_PARTS[told["part"]] * ball_g, _EXACT * ball_g, Unit.GRAM))
