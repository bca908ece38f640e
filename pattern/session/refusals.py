"""Why a session refuses a command, as data; the sentences are made elsewhere."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from pattern.errors import RoundsAloudError
from pattern.session.commands import Command
from pattern.shape.rounds import Stage


class Reason(StrEnum):
    """Why a command makes no sense now."""

    PAUSED = "paused"
    DOUBT_OPEN = "doubt open"
    NOTHING_ASKED = "nothing asked"
    NOTHING_TO_UNDO = "nothing to undo"
    NOTHING_DOUBTED = "nothing doubted"
    STILL_SETUP = "still setup"
    SETUP_OVER = "setup over"
    ALL_DONE = "all done"
    NO_ROUND_BACK = "no round back"
    NO_SETS = "no sets"
    TOO_MANY_SETS = "too many sets"
    WRONG_UNIT = "wrong unit"
    NOT_A_LENGTH = "not a length"
    ABSURD = "absurd"
    TOO_EARLY = "too early"
    NOT_HERE = "not here"
    COUNT_IMPOSSIBLE = "count impossible"
    MORE_THAN_WORKED = "more than worked"
    OUT_OF_LIMITS = "out of limits"
    TOO_LONG = "too long"
    OTHER_UNIT = "other unit"
    NO_SUCH_STITCH = "no such stitch"
    FIXED = "fixed"
    NO_BRIM = "no brim"
    NOT_OF_SHAPE = "not of shape"
    WHICH_WAY = "which way"
    NO_FURTHER = "no further"
    WRONG_ANSWER = "wrong answer"
    NOT_A_WEIGHT = "not a weight"
    MORE_YARN = "more yarn"
    ABSURD_WEIGHT = "absurd weight"
    WHICH_BALL = "which ball"
    ODD_RHYTHM = "odd rhythm"
    ODD_WAIT = "odd wait"
    EMPTY_NOTE = "empty note"
    LONG_NOTE = "long note"
    NOT_DONE = "not done"
    SIZE_KNOWN = "size known"
    SIZES_FULL = "sizes full"
    NO_SIZES = "no sizes"
    ODD_SWATCH = "odd swatch"
    OWN_WIDTH = "own width"
    ODD_WASHING = "odd washing"
    NO_PLACE_FOR = "no place for"
    NOTHING_CALLED = "nothing called"


@dataclass(eq=False)
class Refused(RoundsAloudError):  # noqa: N818 - it reads as what happened
    """A command that makes no sense now; the state is unchanged."""

    reason: Reason
    stage: Stage
    command: Command
    detail: Mapping[str, str | float | int] = field(default_factory=dict)
