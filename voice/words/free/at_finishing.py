"""Plain words while the piece is finished: a step that is done, or what it asks for.

Words: common practice, no source.
"""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.state import FINISHING_STEPS, State
from pattern.shape.rounds import Stage
from voice.words.free.matched import Match

_STEPS = {
    "end": r"slip stitched",
    "fasten": r"fastened off|fastened|cut|cut off|snipped|pulled through|drawn through",
    "weave": r"woven in|weaved in|sewn in|darned in|hidden|wove in",
    "shape": r"washed|pinned out|shaped|dried|dry",
}
"""Words of each step that is done."""
_DID = rf"(?:{'|'.join(_STEPS.values())})"
_THING = (
    r"(?:the|my|all the|both|all my|it|them|that)(?: (?:ends?|yarn|tails?|thread|loop|last \w+))?"
)
_DONE = (
    r"(?:(?:that is|there|right|okay|so|now|all|and|there we are) )*"
    rf"(?:{_THING} (?:(?:is|are|has been|have been) )?(?:all )?{_DID}"
    rf"|(?:i have|we have|i am) (?:just |all )?{_DID}(?: {_THING})?"
    rf"|(?:it is |they are )?all {_DID}"
    r"|i (?:wove in|cut|fastened off|washed|shaped) (?:the|my|all the) \w+)"
    r"(?: (?:now|then|at last|too|as well))*"
)
_TAIL = (
    r"(?:so )?how (?:long|much)(?: of)?(?: a| the)? ?(?:tail|end|yarn|thread)?"
    r" (?:do|should|shall|must|would) (?:i|we|it|the \w+) (?:leave|be|cut|need)(?: \w+){0,5}"
)
_ASKS = (
    r"(?:so |and |right )*(?:(?:do|should|shall|must|can) (?:i|we) "
    r"(?:cut|fasten|weave|sew|pull|slip stitch|end)|(?:do|should|shall|must) (?:i|we) wash)"
    r"(?: \w+){0,5}"
)


def at_finishing(words: str, state: State) -> Match | None:
    """The meaning of plain words of the finishing; None for any others, and in any other stage."""
    if state.stage is not Stage.FINISHING:
        return None
    if re.fullmatch(_TAIL, words):
        return Match(c.Ask(c.Asked.FINISHING))
    if re.fullmatch(_ASKS, words):
        return Match(c.Ask(c.Asked.AGAIN))
    if not re.fullmatch(_DONE, words):
        return None
    called = _STEPS.get(FINISHING_STEPS[state.step])
    return Match(c.Next(), asks=called is None or not re.search(rf"\b(?:{called})\b", words))
