"""A yes, a no, or letting go, in plain words where a question stands. Common usage, no source."""

from __future__ import annotations

import re

from pattern.trade.lengths import Amount
from voice.words.free.amounts import amount_first
from voice.words.free.spellings import said_plainly

_YES = frozenset({"okay", "sure", "fine", "all right", "right", "got it"})
"""Some are "next" where no question stands."""
_NO = frozenset({"no thanks", "no thank you", "no no", "not really", "nah", "nope"})
_LEAVES = (
    r"(?:(?:(?:no|nah|nope|actually|oh|thanks|thank you) )*(?:please )?leave"
    r"|(?:(?:no|nah|nope|thanks|thank you) )+(?:please )?keep) (?:it|that|them|this)"
    r"(?: as it is| as they are| alone| be| for now| now| then| please| thanks)*"
)
"""To keep something is a no after a no alone: a reading in doubt may be kept."""
CANCEL = r"cancel|cancel (?:that|it)|forget (?:that|it)"


def agrees(text: str) -> bool:
    """Whether a wording is a yes where a question stands."""
    return said_plainly(text) in _YES


def declines(text: str) -> bool:
    """Whether a wording is a no where a question stands."""
    words = said_plainly(text)
    return words in _NO or re.fullmatch(_LEAVES, words) is not None


def corrects(text: str) -> Amount | None:
    """The number of a no that tells the right one, such as "no, it's thirty one"."""
    words = said_plainly(text)
    found = re.match(_RIGHT_ONE, words)
    read = amount_first(words[found.end() :]) if found else None
    return read[0] if read is not None and not read[1] else None


_RIGHT_ONE = (
    r"(?:no|nope|nah|not quite)(?: sorry| wait| no)? (?:(?:it|that|this) (?:is|was|should be)"
    r"|i (?:said|meant|mean)|make (?:it|that)|it should be)(?: really| actually| more like)? "
)


def corrects_last(text: str) -> Amount | None:
    """The number that is told in place of the one before, such as "oops, I meant nine"."""
    words = said_plainly(text)
    if (right := corrects(text)) is not None:
        return right
    if found := re.match(_NOT_BUT, words):
        denied = amount_first(words[found.end() :])
        words = denied[1] if denied is not None else ""
        found = re.match(r"(?:(?:but|it is|rather|sorry|no) )*", words)
    else:
        found = re.match(_MEANT, words)
    read = amount_first(words[found.end() :]) if found else None
    return read[0] if read is not None and not read[1] else None


_MEANT = (
    r"(?:(?:no|oops|oh|sorry|wait|er|um|hang on|my mistake) )*(?:i (?:meant|mean)|make (?:that|it)"
    r"|(?:that|it) should be|(?:that|it|this) (?:was|is) wrong (?:it is|it was|it should be))"
    r"(?: to say| really| actually| more like)? "
)
_NOT_BUT = r"(?:(?:no|oops|oh|sorry|wait|it is|it was|that was) )*not "


def cancels(text: str) -> bool:
    """Whether a wording lets go of whatever stands open."""
    return re.fullmatch(CANCEL, said_plainly(text)) is not None
