"""Wordings about the end of the part in work: how much longer with it, or to finish it first.

Rounds are told and no clock, unless the words ask for a time. Common usage, no source.
"""

from __future__ import annotations

import re

from pattern.plan.next_round import next_part
from pattern.session import commands as c
from pattern.session.state import State
from voice.words.free.matched import Match

_LED = r"(?:(?:so|and|but|wait|no|sorry|oh|please|first|then|just|only|still) )*"
_WAYS = r"(?: (?:like (?:this|that)|this way|straight|plain|around and around|round and round))*"
_THIS = (
    r"(?:this|that|these|those|it|them|this one|these ones|these rounds|this (?:bit|part|section)"
    r"|plain(?: rounds| ones)?|increasing|the increas(?:es|ing)|straight rounds"
    r"|the (?:\w+ )?rounds|(?:the|my|this|these) (?:crown|top|base|dome|sides?|body|walls?"
    r"|underside|band|brim))"
)
_DO = (
    r"(?:keep(?: on)?|go|go on|going|carry on|continue|stay|work|do|make|stick|crochet|keep going"
    r"|keep it|keep this)(?: (?:up|doing|going|on|at|with|working|making|crocheting))*"
)
_I = (
    r"(?:(?:do|should|must|shall|will|would|am|are|have|did) (?:i|we) (?:still |got to |have to )?)"
)
_PART = r"\b(?:the|my|this|these) (crown|top|base|dome|sides?|body|walls?|underside|band|brim)\b"
_LONG = r"(?:for )?(?:how (?:long|much longer|much further|far|many more|much more)|until when)"
_LAST = r"(?: (?:for|now|then|still|left|here|to go|please|dear|love|altogether|anyway))*"
_HOW_LONG = (
    r"(?!.*\bhow many (?:more )?(?:are |is )?(?:left )?(?:in|of|for|on) this (?:one|round)$)"
    rf"{_LED}(?:{_LONG} {_I}(?:to )?{_DO}(?: {_THIS})?{_WAYS}"
    rf"|{_LONG}(?: (?:to go|left|is left|more|rounds?))*"
    rf" (?:with|of|on|for|at|in) (?:all )?{_THIS}{_WAYS}"
    r"|how (?:much|many|long) (?:more|longer|further)(?: rounds?)?"
    rf"(?= (?:like|this way|straight|plain)){_WAYS}"
    rf"|(?:when|where) (?:do|can|should|may|must|will) (?:i|we) (?!.*\bincreas)"
    rf"(?:stop|be done with|finish with)(?: (?:doing|with|making|working))*(?: {_THIS}){_WAYS})"
    rf"{_LAST}"
)
_OF_PART = (
    r"(?:so |and )?how (?:long|much longer|many (?:more )?rounds?|much more|much)"
    r"(?: (?:is|are|will|does|do|of|in|for|left|more))*"
    r" (?:(?:this|these) (?:bit|part|section|stretch|sides?|brim)|the (?:sides?|brim|band|bit))"
    r"(?: (?:is|are|going to|go|be|last|on|left|to go|still|here|there|to do|yet))*"
)
_BEFORE_PART = (
    r"(?:so |and )?how many (?:more )?(?:rounds|rows)?(?: (?:is it|are there|do i have|have i got"
    r"|to go|left|more|still))*"
    r" (?:before|until|till|to) (?:i (?:start|begin|get to|reach) )?(?:the|my) "
    r"(?P<next>brim|sides?|band|end|underside)(?: (?:starts?|begins?|comes?|now|then))*"
)
_FINISH = (
    rf"{_LED}(?:(?:i|we) (?:(?:still|just|really) )*"
    r"(?:would|will|want|need|have|had|am|are|think)(?: (?:like|love|rather"
    r"|prefer|better|got|going|i will|i would|need|want))*(?: to)? "
    r"|let me |let us |can (?:i|we) |could (?:i|we) |may i |shall (?:i|we) |should (?:i|we) )?"
    r"(?:(?:just|still|first|quickly|only) )*"
    r"(?:finish(?:ing)?|complete|completing|get done with|do the rest of|get to the end of"
    r"|finish off|be done with)(?: (?:with|off|up))? "
    r"(?:the|this|these|my|that) (?P<what>round|row|bit|part|section|crown|top|base|dome|sides?"
    r"|body|walls?|underside|band|brim)"
    r"(?: (?:first|before (?:that|anything|anything else|i \w+|we \w+)|then|please|okay"
    r"|you know|if that is (?:okay|all right)))*"
)
_CALLED = {
    "crown": r"crown|top|base|dome",
    "sides": r"sides?|body|walls?|underside|band",
    "brim": "brim",
}


def part_ends(words: str, state: State) -> Match | None:
    """The rounds of this part that are left, or what it is to finish it; None for other words."""
    if state.offered is None:
        return None
    if any(re.fullmatch(pattern, words) for pattern in (_HOW_LONG, _OF_PART)):
        named = re.search(_PART, words)
        other = named is not None and named_part(named[1], state) != part_in_work(state)
        return Match(c.Ask(c.Asked.ROUNDS if other else c.Asked.PART_ROUNDS))
    if found := re.fullmatch(_BEFORE_PART, words):
        follows = named_part(found["next"], state) == part_in_work(state) + 1
        return Match(c.Ask(c.Asked.PART_ROUNDS if follows else c.Asked.ROUNDS))
    found = re.fullmatch(_FINISH, words)
    return _finish(found["what"], state) if found else None


def _finish(what: str, state: State) -> Match | None:
    """Staying with what is in work says how much is left; the next part is asked about."""
    if what in {"round", "row"}:
        return Match(c.Ask(c.Asked.AGAIN))
    part, here = named_part(what, state), part_in_work(state)
    if part == here or what in {"bit", "part", "section"}:
        return Match(c.Ask(c.Asked.PART_ROUNDS))
    if part is None:
        return None
    if part < here:
        return Match(c.Ask(c.Asked.WHERE))
    brim = state.piece.stretches[part].shaping.flared
    return Match(c.StartBrim() if brim else c.StartSides(), asks=True)


def part_in_work(state: State) -> int:
    """The number of the part in work."""
    return next_part(state.piece) or 0


def named_part(word: str, state: State) -> int | None:
    """The part that a word names, as its shape calls it or as it lies; None for none of it."""
    parts = state.piece.stretches
    for number, stretch in enumerate(parts):
        if word in {stretch.called, stretch.called.removesuffix("s")}:
            return number
    for number, stretch in enumerate(parts):
        lies = "brim" if stretch.shaping.flared else "sides" if stretch.shaping.hangs else "crown"
        if re.fullmatch(_CALLED[lies], word):
            return number
    return None
