"""A part that is to end after some rounds more: "can we end it after this one". Common usage, no
source.
"""

from __future__ import annotations

import re

from pattern.plan.piece import depth_at
from pattern.session import commands as c
from pattern.session.state import State
from pattern.trade.lengths import Amount
from voice.words import spoken_numbers
from voice.words.free.part_ends import part_in_work

_LED = (
    r"(?:(?:okay|so|well|right|and|then|i think|i guess|maybe|just|only|hm|hmm|please|let us|let me"
    r"|can we|can i|could we|could i|shall we|shall i|may i|i will|we will|i would|i want to"
    r"|i would like to|like to|say|do|work|make|one could|what if we|what if i|how about) )*"
)
_ROUNDS = r"(?: (?:more|rounds?|rows?|ones?|of (?:this|these|them|the brim|brim|the sides|sides)))"
_MANY = (
    rf"(?P<many>one|two|three|four|another|a last|one last|a final|one final)(?: or two)?{_ROUNDS}*"
)
_STOP = (
    r"(?:stop|end|finish|be done|call it (?:a day|done|enough)|that will do|thatll do"
    r"|that is (?:it|enough|me)|done|enough|i am done|we are done|no more|leave it|quit"
    r"|fasten off|cast off)"
    r"(?: (?:it|there|here|the brim|the sides|at that|off|this))*"
)
_AFTER = (
    r"(?:after|with) (?:this (?:one|round|row)|the (?:next|current) (?:one|round)|that(?: one)?"
    rf"|(?P<many>one|two|three|four|another){_ROUNDS}*)"
)
_THEN = r"(?: (?:and|then|or so|or two|at most|please|now|i think|i would say|will do))*"
_FORMS = (
    rf"{_LED}{_STOP} {_AFTER}{_THEN}",
    rf"{_LED}{_MANY}{_THEN} (?:and |then |so )*(?:i |we |will )*{_STOP}{_THEN}",
    rf"{_LED}(?P<many>one|another){_ROUNDS}+ or two{_ROUNDS}*{_THEN}",
    rf"{_LED}(?P<many>one) or two{_ROUNDS}+{_THEN}",
    rf"{_LED}(?:make |let )?(?:this (?:be )?|it (?:be )?)the last (?:one|round|row){_THEN}",
    rf"{_LED}{_AFTER} (?:(?:i|we|can|will|would|like|to|let us|shall|am|are|it) )*{_STOP}{_THEN}",
)
_NUMBERS = frozenset({"another", "a last", "one last", "a final", "one final"})


def stop_after(words: str, state: State) -> c.Change | None:
    """The width or depth at which a brim or sides end after those rounds; None for other words."""
    if state.offered is None:
        return None
    for form in _FORMS:
        if found := re.fullmatch(form, words):
            return _ending(_rounds(found.groupdict().get("many")), state)
    return None


def _rounds(many: str | None) -> int:
    if many is None or many in _NUMBERS:
        return 1
    return spoken_numbers.read_integer(many) or 1


def _ending(rounds: int, state: State) -> c.Change | None:
    piece, unit = state.piece, state.settings.unit
    stretch = piece.stretches[part_in_work(state)]
    if stretch.shaping.flared:
        key = "brim_mm"
        length_mm = (piece.high(piece.brim_rounds) + rounds) * piece.gauge.height_mm
    elif stretch.shaping.hangs and stretch.end_depth_mm is not None:
        key, length_mm = "depth_mm", depth_at(piece, piece.finished + rounds).mean
    else:
        return None
    return c.Change(key, Amount(length_mm / Amount(1.0, unit=unit).mm(unit), unit=unit))
