"""Interruptions in plain words: they pause the call. Common usage, no source."""

from __future__ import annotations

import re

_WHAT = (
    r"somebody|someone|phone|telephone|door ?bell|bell|kettle|oven|timer|postman|neighbour|neighbor"
)
"""Things and people whose "'s" is "is"."""
_HOME = r"(?:dog|cat|kids?|baby|bairn|phone|boys?|girls?|children)s?"
_WHO = r"(?:somebody|someone|there is (?:somebody|someone)|the (?:postman|neighbour|neighbor))"
_NEWS = (
    rf"(?:{_WHO} (?:is )?(?:at|knocking at|knocking on) (?:the|my) door"
    r"|(?:there is )?(?:the|my) (?:phone|telephone|door ?bell|bell|kettle|oven|timer)"
    r"(?: (?:is )?(?:ringing|going(?: off)?|boiling))?"
    r"|(?:the |my )?(?:dog|cat|baby|children|kids) (?:wants?|needs?|is|are) .{1,30}"
    r"|i (?:need|have|have got|got) to .{1,30}|i (?:get|answer|see to|fetch) .{1,30})"
)
"""Told to anybody in the room, too: it counts after a word that asks to wait."""
_ASKS = (
    r"(?:(?:i will be |i am )?(?:right )?back in (?:a|one|two|five) (?:bit|minutes?|moments?|secs?"
    r"|seconds?|ticks?)"
    r"|(?:just )?(?:a|one) (?:minute|moment|sec|second|tick)"
    r"|(?:hold|hang) (?:on|about)|wait (?:a|one) (?:minute|moment|sec|second|tick)"
    r"|stop (?:here |there )?for (?:now|a (?:bit|while|moment))"
    r"|do not go away|give me (?:a|one|two) (?:minutes?|moment|sec|second|tick))"
)
_SOFT = r"(?:(?:oh|ah|sorry|wait|okay|right|just|um|er|please|now|dear|love) )*"
_AFTER = r"(?: (?:please|now|dear|love|sorry))*"


def interrupts(words: str) -> bool:
    """Whether plain words ask to wait, and tell nothing but why."""
    words = re.sub(rf"\b({_WHAT})s\b", r"\1 is", words)
    sudden = rf"{_SOFT}(?:hold|hang) (?:on|about) (?:the |my |our )?{_HOME} .{{1,40}}"
    asks = rf"{_SOFT}{_ASKS}{_AFTER}(?: (?:while )?{_NEWS})?"
    why = rf"(?:my|the) (?:tea|dinner|lunch|supper|bath|bus|lift|taxi)(?: is|s) .{{1,20}} {_ASKS}"
    told = rf"{_SOFT}(?:wait|sorry) {_NEWS}|{_SOFT}{_NEWS} {_ASKS}"
    return re.fullmatch(rf"(?:{asks}|{told}|{sudden}|{why}){_AFTER}", words) is not None
