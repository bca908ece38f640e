"""What may be done unasked where an engine listened whose scores are not fitted.

It can turn doing into asking, and does nothing else.
"""

from __future__ import annotations

from collections.abc import Callable

from pattern.session.commands import (
    Ask,
    Command,
    HeadSize,
    Help,
    Leave,
    Pause,
    RemindAfter,
    Rests,
    Resume,
    Signal,
    Speak,
    Wording,
)
from voice.recognisers.recogniser import Opinion

_BESIDE = (Ask, Help, HeadSize, Wording, Speak, Signal, Rests, RemindAfter, Pause, Resume, Leave)
"""Commands that leave the piece as it is."""


def may_be_done(
    command: Command, opinion: Opinion, reader: Callable[[str], Command | None]
) -> bool:
    """Whether such an engine, where one listened, heard the command too, or need not have."""
    if opinion.confirmed is None or isinstance(command, _BESIDE):
        return True
    return any(reader(words) == command for words in opinion.confirmed)
