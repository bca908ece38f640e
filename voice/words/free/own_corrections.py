"""Corrections in the same breath: "deeper by two, sorry, I meant by one".

Words: common usage, no source.
"""

from __future__ import annotations

import re

from voice.words import phrases, spoken_numbers
from voice.words.free.amounts import with_amount
from voice.words.free.around_phrases import phrase_in
from voice.words.free.spellings import said_plainly

_CORRECTS = re.compile(
    r"(?P<first>.+?) (?:(?:no|oh|sorry|wait|oops|er|um|actually|well|hang on|hold on) )*"
    r"(?:i (?:meant|mean)(?: to say| it is)?|no wait|wait no|no sorry|sorry no|make that"
    r"|scratch that|or rather|correction)"
    r"(?: (?:no|sorry|it is|that is|to say|say))* (?P<then>.+)"
)
_NOT_SO = r"\b(?:what|know|see|if|do|did|that|which|you|how|why)$"
"""Before such words nothing is corrected: "what I meant is", "if you know what I mean"."""


_LED = r"(?:(?:by|to|just|only|about|it is|at) )*"
_BEFORE = (
    r"(?:(?:sorry|oh|no|oops|wait|er|um|well|actually) ?)*"
    r"(?:(?:i |did i )?(?:just )?(?:said|say) \w+(?: \w+)?)?"
)
"""It was said before: then the last thing told is corrected."""
_WAYS = r"\b(?:across|around|deep)\b"


_TAKEN_BACK = r"(?:no )*(?:go back|undo|undo (?:that|it)|back|not yet|not (?:done|that)|wait)"
"""Taken back before it was done."""
_NO = re.compile(r"(?P<first>.+?)[,.;]\s*(?:no|sorry|oops)[,.;]\s*(?P<then>.+)", re.IGNORECASE)


def _plain_no(text: str) -> re.Match[str] | None:
    """A "no" alone between two phrases."""
    found = _NO.fullmatch(text.strip())
    if found is None or phrases.read(said_plainly(found["first"])) is None:
        return None
    plain = f"{said_plainly(found['first'])} no wait {said_plainly(found['then'])}"
    return _CORRECTS.fullmatch(plain)


def corrected_in_breath(text: str) -> str:
    """The text as it was meant, where it corrects itself: what came first, with the number or the
    way of measuring that comes last; what comes last, where that is a phrase; any other text as it
    is.
    """
    found = _CORRECTS.fullmatch(said_plainly(text)) or _plain_no(text)
    if found is None or re.search(_NOT_SO, found["first"]):
        return text
    if re.fullmatch(_TAKEN_BACK, found["then"]) and phrases.read(found["first"]) is not None:
        return "where am i"
    first, then = found["first"], re.sub(f"^{_LED}", "", found["then"])
    if re.fullmatch(_BEFORE, first) and spoken_numbers.read_amount(then) is not None:
        return f"no, {then}"
    if spoken_numbers.read_amount(then) is not None and (right := with_amount(first, then)):
        return right
    if re.fullmatch(_WAYS, then) and re.search(_WAYS, first):
        return re.sub(_WAYS, then, first)
    meant = phrases.read(then) or phrase_in(then)
    return then if meant is not None else text
