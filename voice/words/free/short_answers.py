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


def cancels(text: str) -> bool:
    """Whether a wording lets go of whatever stands open."""
    return re.fullmatch(CANCEL, said_plainly(text)) is not None
