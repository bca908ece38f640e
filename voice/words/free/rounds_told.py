"""How many rounds are made, or to which one was ripped back, in plain words.

Common usage, no source.
"""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.state import State
from voice.words import spoken_numbers
from voice.words.free.matched import Match

_LED = r"(?:(?:oh|sorry|well|so|no|and|but|okay|actually|i|we|have|had|had to|just) )*"
_RIPPED = (
    r"(?:rip|ripped|ripping|frog|frogged|pull|pulled|took|take|taken|unravel|unravelled|unpicked"
    r"|tinked|undid|undone|went|gone)"
)
_BACK_TO = (
    rf"{_LED}{_RIPPED}(?: (?:it|that|this|all|right|everything|back|out|down|off))*"
    r" to (?:the (?:end|start|beginning) of )?(?:round|row) (?:number )?(?P<number>[a-z0-9 ]+?)"
    r"(?: (?:again|now|sorry|then))*"
)
_MADE = r"(?:done|did|made|worked|finished|completed|crocheted)"
_TOTAL = (
    rf"{_LED}(?:(?:only|just) {_MADE}|{_MADE} (?:only|just)) (?P<number>[a-z0-9 ]+?) rounds?"
    r"(?: (?:so far|yet|in all|altogether|now|done))*"
)
_SOME = (
    rf"{_LED}(?:{_MADE} )?(?:another |the last )?(?P<number>[a-z0-9]+)(?: more)? rounds?"
    rf"(?: (?:are |were )?(?:{_MADE}|more|already|now|so far|since|in one go|at once))*"
)


def rounds_told(words: str, state: State) -> Match | None:
    """Ripped back to a round that is worked anew, or to as many as there are; a round
    that is done; of several that are done only the place is told, as each is called.
    """
    worked = state.piece.finished
    if not worked or state.offered is None:
        return None
    if (number := _number(_BACK_TO, words)) is not None:
        return _back(worked - number + 1, worked)
    if (number := _number(_TOTAL, words)) is not None:
        return _back(worked - number, worked)
    told = re.search(rf"\b{_MADE}\b", words) and not re.search(rf"\b{_RIPPED}\b", words)
    made = _number(_SOME, words) if told else None
    if not made:
        return None
    return Match(c.Next() if made == 1 else c.Ask(c.Asked.WHERE))


def _number(pattern: str, words: str) -> int | None:
    found = re.fullmatch(pattern, words)
    return None if found is None else spoken_numbers.read_integer(found["number"])


def _back(out: int, worked: int) -> Match:
    if 0 < out <= worked:
        return Match(c.RippedBack(out), asks=True)
    return Match(c.Ask(c.Asked.WHERE))
