"""Yes-or-no questions whether a piece is big enough by now. Common usage, no source."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.rounds import Stage
from voice.words.free.part_ends import named_part, part_in_work

_LED = r"(?:(?:so|and|but|now|hm|hmm|wait|sorry|oh|please|tell me|do you think|well) )*"
_THING = (
    r"(?P<thing>it|this|that|we|i|the hat|my hat|the piece|this (?:bit|part)"
    r"|(?:the|my|this|these|those) (?:crown|top|base|dome|sides?|body|walls?|band|brim))"
)
_DEEP = r"(?:deep|long|tall|high)"
_WIDE = r"(?:wide|big|large|broad|far)"
_MORE = r"(?:deeper|longer|taller|higher|wider|bigger|larger|broader)"
_IS = r"(?:is|are|am|will|would|have|has|did|do|does|should|must)"
_NOW = (
    r"(?: (?:yet|now|already|by now|so far|here|then|across|around|do you think|you think|or not"
    r"|at this point|for (?:me|him|her|them|my head|the head|this head)|to stop|to go on|to finish"
    r"|or (?:does|do) (?:it|they) (?:need|want) (?:some )?more))*"
)
_ROUNDS = r"(?:rounds?|rows?|plain (?:rounds|ones)|increases|of (?:these|them|this|those))"
_DONE = (
    rf"{_LED}(?:(?:am i|are we|is that us|is this us|is that me) there"
    rf"|(?:have|did) (?:i|we) (?:done|do|made|make|work|worked|got|crocheted) enough"
    rf"(?: {_ROUNDS})?(?: (?:of|for|on|in) (?:the|my|this) \w+)?"
    rf"|(?:is|are|was|were) (?:that|this|it|those|these|there) enough {_ROUNDS}"
    r"|is (?:that|this) (?:the|my) (?P<done>crown|top|base|dome|sides?|body|brim|increasing)"
    r" (?:done|finished|over|complete)"
    r"|(?:can|should|shall|do|may|must) (?:i|we) (?:now )?(?:stop|finish) (?:increasing|the"
    r" increas(?:es|ing)|going round|adding)"
    r")"
    rf"{_NOW}(?: (?:with|on|of) (?:the|this|my) \w+)?{_NOW}"
)


_NEEDS_MORE = (
    rf"{_LED}(?:{_IS} {_THING} (?:(?:need|want|have|to|be|get|go|come|grow|any|a bit|some|much"
    rf"|still) )*{_MORE}"
    r"|(?:do|does|is|are|will) (?:i|we|it|there) (?:need|want|to be)(?: to (?:do|work|make))?"
    rf" (?:any |some |a few |yet )?more {_ROUNDS}){_NOW}"
)
"""A yes to it means no yes to the others: the rounds are told."""


def _enough(one: str, noun: str) -> re.Pattern[str]:
    """Whether it is wide or deep enough: the adjectives, and the noun."""
    return re.compile(
        rf"{_LED}(?:{_IS} {_THING} "
        r"(?:(?:going to be|be|got|made it|nearly|almost|quite|really|about) )*"
        rf"(?:{one} enough|the right {noun}|enough {noun}"
        rf"|as {one} as (?:it|they) (?:should|must|needs? to|has to|have to|ought to)(?: be)?)"
        rf"|(?:is|have) (?:the|my|there|i got|we got|i) (?:enough )?{noun}"
        rf"(?: (?:enough|right|okay|all right|good|there))?|{one} enough)"
        rf"{_NOW}"
    )


_QUESTIONS = (
    (_enough(_DEEP, "(?:depth|length|height)"), c.Asked.DEEP_ENOUGH),
    (_enough(_WIDE, "(?:width|size)"), c.Asked.WIDE_ENOUGH),
    (re.compile(_DONE), c.Asked.PART_ENOUGH),
    (re.compile(_NEEDS_MORE), c.Asked.PART_ROUNDS),
)
_WHOLE = frozenset({"it", "this", "that", "we", "i", "hat", "piece", "bit", "part"})


def big_enough(words: str, state: State) -> c.Asked | None:
    """The question in plain words; None for any other, and of a part that is not in work."""
    if state.stage is Stage.SETUP:
        return None
    for pattern, what in _QUESTIONS:
        if found := pattern.fullmatch(words):
            thing = (found.groupdict().get("thing") or "it").split()[-1]
            if thing in _WHOLE or named_part(thing, state) == part_in_work(state):
                return what
            later = named_part(thing, state)
            deep = what is c.Asked.DEEP_ENOUGH and later is not None
            return what if deep and not state.piece.stretches[later or 0].shaping.flared else None
    return None
