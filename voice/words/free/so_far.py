"""Stitches worked so far of the round in work, or left of it, in plain words. Common usage."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.state import State
from voice.words.free.amounts import MASK, amounts, masked

_SO_FAR = (
    r"(?:so far|up to now|until now|till now|already|by now|and (?:i am )?(?:still going|counting)"
    r"|still going|not finished|not done|still on it)"
)
_HERE = r"(?:in (?:it|here|this one|this round|the round|this)|on this (?:one|round)|in)"
_DID = r"(?:have|had|got|done|did|worked|made|counted|count|am|at|up|to|there|are)"
_FORMS = (
    rf"(?:\w+ ){{0,5}}?{_SO_FAR} (?:(?:i|it|is|{_DID}) )*{MASK}(?: stitches)?(?: {_HERE})?",
    rf"(?:\w+ ){{0,8}}?(?:(?:i|{_DID}) )*{MASK}(?: stitches)?(?: {_HERE})? {_SO_FAR}",
)


_LEFT = (
    rf"(?:\w+ )?(?:i have|i have got|i got|there are|there is|got|only|just)(?: (?:got|only|just))*"
    rf" {MASK}(?: stitches)? (?:left|to go|remaining|more to do)"
    r"(?: (?:in|of|on|for) (?:this|the|it|this one)(?: round)?)?"
)
_HALF = (
    r"(?:so |well |okay )*(?:i am )?(?:about |just |roughly )?half ?way"
    r"(?: (?:round|around|through|there|done|along|in|into|with|on))*"
    r"(?: (?:this|the|it|this one|the round|this round))*(?: now)?"
)


def so_far(words: str, state: State) -> c.CountedIn | None:
    """The count from the marker to the hook; None for other words."""
    found = amounts(words)
    if state.offered is not None and re.fullmatch(_HALF, words):
        return c.CountedIn(state.offered.after // 2)
    if state.offered is None or state.want is not None or len(found) != 1:
        return None
    count = found[0].whole()
    if count is not None and re.fullmatch(_LEFT, masked(words)):
        return c.CountedIn(state.offered.after - count) if count < state.offered.after else None
    if count is None or not any(re.fullmatch(form, masked(words)) for form in _FORMS):
        return None
    named = re.search(r"\b(?:rounds?|rows?|sets?|repeats?)\b", re.sub(_HERE, "", words))
    return None if named else c.CountedIn(count)
