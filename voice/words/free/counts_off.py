"""A count told beside the one that was called: "seventeen instead of eighteen"."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.reading_kinds import Kind
from voice.words import spoken_numbers
from voice.words.free.amounts import amounts

_BESIDE = (
    r"\b(?:instead of|rather than|and not|not the|(?:should|supposed to|meant to) (?:be|have)"
    r"|you said)\b"
)
"""Common usage, no source."""


def instead_of(words: str, state: State) -> c.Counted | None:
    """The count that was found, beside the one that was called; None where no two are told."""
    counts = [amount.whole() for amount in amounts(words) if amount.unit is None]
    if len(counts) != 2 or not re.search(_BESIDE, words):
        return None
    called = {state.offered.after if state.offered else None, state.piece.stitches}
    found = [count for count in counts if count is not None and count not in called]
    return c.Counted(found[0]) if len(found) == 1 else None


_IS_IT = (
    r"(?:right |then |so |yes |and )*"
    r"(?:that is |it is |i make it |i have |i count |i counted |comes to |there are |makes )?"
    r"(?P<count>[a-z0-9 ]+?)(?: stitches| sts)?(?: it is| there are| in all| now| then| all round"
    r"| all the way round)*"
)


def as_called(words: str, state: State) -> c.Counted | None:
    """The count that was called, said bare: "eighteen it is"; not where a reading is wanted."""
    found = re.fullmatch(_IS_IT, words)
    if found is None or state.offered is None or (state.want and state.want.kind is not Kind.LOOK):
        return None
    count = spoken_numbers.read_integer(found["count"])
    called = count in {state.offered.after, state.piece.stitches}
    return c.Counted(count) if count is not None and called and count > 2 else None
