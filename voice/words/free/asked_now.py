"""Questions about this moment: what to work now, and how big it should be. Common usage."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.state import State

_WHAT_NOW = (
    r"(?:so |and )?(?:what|which stitches?) "
    r"(?:am i|are we|do i|should i|shall i|must i|would i)(?: \w+)*? ?"
    r"(?:supposed to do|meant to do|do|doing|work|working|make|making)"
    r"(?: (?:now|here|next|in this round|this round|at this point|again|with it))*"
    r"|(?:so )?what now|now what"
    r"|what is (?:the|my) (?:instruction|round|instruction for this round)"
    r"|(?:what is|tell me) (?:the|this) (?:whole )?round(?: again)?"
    r"|how does (?:this|the) round go"
)
_HOW_BIG = (
    r"(?:so |and )?(?P<how>how (?:wide|big|large|far across|far around|deep)"
    r"|what (?:size|width|depth)) (?:should|ought|must|would|will|is|does) "
    r"(?P<what>it|this|that|the \w+|my \w+)"
    r"(?: (?:to|supposed to|meant to|have to))?(?: (?:be|measure|get|come to|have got))?"
    r"(?: across| around)?"
    r"(?P<now>(?: (?:by )?(?:now|here|then|yet)| so far| at this (?:point|stage)| already)*)"
)
_OTHER_THINGS = frozenset({"head", "hook", "tail", "band", "chain", "ring", "time", "hole"})


def asked_now(words: str, state: State) -> c.Ask | None:
    """The question in plain words; None for any other. A depth is asked for "by now".

    Of the brim the width is told where it is worked, and before that how one chooses it.
    """
    if re.fullmatch(_WHAT_NOW, words):
        return c.Ask(c.Asked.AGAIN)
    found = re.fullmatch(_HOW_BIG, words)
    if found is None:
        return None
    thing, early = found["what"].split()[-1], state.piece.brim_rounds == 0
    deep = found["how"] in {"how deep", "what depth"} and not found["now"]
    if deep or thing in _OTHER_THINGS or (thing == "brim" and early):
        return None
    return c.Ask(c.Asked.SIZE_NOW)
