"""A yes, a no, or letting go, in plain words where a question stands. Common usage, no source."""

from __future__ import annotations

import re

from voice.words.free.spellings import said_plainly

_YES = frozenset({"okay", "sure", "fine", "all right", "right", "got it"})
"""Some are "next" where no question stands."""
_NO = frozenset({"no thanks", "no thank you", "no no", "not really", "nah", "nope"})
CANCEL = r"cancel|cancel (?:that|it)|forget (?:that|it)"


def agrees(text: str) -> bool:
    """Whether a wording is a yes where a question stands."""
    return said_plainly(text) in _YES


def declines(text: str) -> bool:
    """Whether a wording is a no where a question stands."""
    return said_plainly(text) in _NO


def cancels(text: str) -> bool:
    """Whether a wording lets go of whatever stands open."""
    return re.fullmatch(CANCEL, said_plainly(text)) is not None
