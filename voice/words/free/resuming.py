"""Plain sentences of somebody who is back at work after a pause. Common usage, no source."""

from __future__ import annotations

import re

from voice.words.free.spellings import said_plainly

_FIRST = (
    r"(?:(?:okay|right|well|so|now|hello|hi|hiya|hey|sorry|alright|all right|then|yes|and|um|er|uh"
    r"|phew|good|there|come on) )*"
)
_GO_ON = (
    r"(?:go on|carry on|continue|proceed|keep going|get on|get going|crack on|get back to it"
    r"|pick (?:it|this) up(?: again)?|start (?:up )?again|resume)"
)
_LAST = r"(?: (?:again|now|then|with it|please|dear|love|sorry))*"
_BACK = (
    r"i (?:am|have come) back(?: (?:at|in|on|to|from|with) .{1,30})?",
    r"(?:it is )?(?:only )?me again",
    r"(?:i am here|here i am)",
    r"(?:now )?where (?:were|are) we(?: at| up to)?",
    r"where did we (?:stop|get to|leave off)",
    r"back (?:to|at) (?:it|work|the hat|my hat|the crochet|my crochet)",
    rf"(?:let us|shall we|we can|can we|you can|i want to|please) {_GO_ON}",
    _GO_ON,
    r"(?:off|on) we go",
    r"on with (?:it|the hat|my hat)",
    r"ready (?:again|when you are|to (?:go on|carry on|continue|start again))",
    r"(?:you can )?(?:start )?listen(?:ing)? again",
    r"(?:wake up|un ?pause|end of (?:the )?(?:break|pause)|(?:the )?break is over|back)",
    r"pick up where (?:we|i) left off",
)


def resumes(text: str) -> bool:
    """Whether the maker is back: then a pause is over."""
    words = said_plainly(text)
    return re.fullmatch(rf"{_FIRST}(?:{'|'.join(_BACK)}){_LAST}", words) is not None
