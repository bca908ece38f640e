"""Wordings that tell that the crown is wide enough, so that the next part may begin.

Words: common usage, no source. Of a depth and of a brim such words are readings from the head, and
are taken elsewhere.
"""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.state import State
from voice.words.free.matched import Match
from voice.words.free.part_ends import part_in_work

_SAYS = (
    r"(?:(?:so|and|right|well|now|there|oh|yes|yeah) )*"
    r"(?:i (?:reckon|think|guess|feel|would say|am sure|suppose) |reckon |looks like )?(?:that )?"
)
_CROWN = r"(?:the|my|this) (?:crown|top|base|dome|circle|disc|disk|flat (?:bit|part|piece))"
_NOW = r"(?: (?:now|then|already|for me|for (?:his|her|my|their) head|i (?:think|reckon|guess)))*"
_DONE = r"(?:s? (?:is )?(?:all )?(?:done|finished))"
_WILL_DO = r"(?:ll| will| should) do(?: (?:nicely|fine|as it is))?"
_ENOUGH = (
    rf"{_SAYS}(?:(?:it|that|this|{_CROWN}) (?:is |looks |seems )(?:\w+ )?(?:wide|big|large) enough"
    rf"|(?:that|this|it) is {_CROWN}{_DONE}"
    rf"|(?:that|this|it){_WILL_DO} for {_CROWN}"
    rf"|{_CROWN}(?:{_DONE}|{_WILL_DO})){_NOW}"
)


def told_enough(words: str, state: State) -> Match | None:
    """The start of the next part, where plain words tell that the crown in work is wide enough;
    where they tell that it is not, what is missing.
    """
    stretches = state.piece.stretches
    if state.offered is None or part_in_work(state) != 0 or len(stretches) == 1:
        return None
    if re.fullmatch(_ENOUGH, words) is None:
        return None
    if re.search(r"\b(?:not|nearly|almost|hardly)\b", words):
        return Match(c.Ask(c.Asked.WIDE_ENOUGH))
    return Match(c.StartSides() if stretches[1].shaping.hangs else c.StartNext(), asks=True)
