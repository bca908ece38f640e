"""The expectation of a session: a weight for every command, from the state of the piece.

Weights are ratios to a phrase about which nothing is known. Those of numbers follow from the
session's own prediction (`number_expectation`), and what it would refuse weighs next to nothing;
the others are judgement, no source.
"""

from __future__ import annotations

from pattern.session.bare_number import meant
from pattern.session.commands import (
    Adjust,
    Answer,
    Begin,
    Change,
    Choose,
    Command,
    Counted,
    CountedIn,
    Enough,
    EveryQuestion,
    HeadOf,
    Help,
    Kind,
    Lies,
    Measured,
    Next,
    No,
    RippedBack,
    Sets,
    Skip,
    StartBrim,
    StartNext,
    StartSides,
    StringOff,
    TriedOn,
    Weighed,
    Yes,
)
from pattern.session.decisions import decide
from pattern.session.refusals import Refused
from pattern.session.state import State
from pattern.shape.fits import FITS
from pattern.shape.interview import BEGIN
from pattern.shape.limits import LIMITS
from voice.hearing.disambiguation import by_number
from voice.hearing.evidence import Expectation, Reader
from voice.hearing.number_expectation import (
    ANSWER,
    ASIDE,
    NEVER,
    OPEN,
    RARE,
    REFUSED,
    USUAL,
    adjustment_weight,
    answer_weight,
    count_weight,
    ends_in_zero,
    kind_asked,
    reading_weight,
    sets_weight,
    yarn_left_weight,
)
from voice.hearing.seldom import SELDOM
from voice.words.free.meant_here import head_by_size
from voice.words.phrases import read

GROWN_YEARS = 18.0
"""Nobody older is said by age, as "a child of" so many years: a grown head is asked for as one."""


def expectation_of(state: State) -> Expectation:
    """The weights of commands said in this state."""

    def weight(command: Command) -> float:
        if _refused(state, command):
            return REFUSED
        return _weight(state, command) * (RARE if ends_in_zero(command) else 1.0)

    return weight


def reader_in(state: State, asked: tuple[Command, ...] = ()) -> Reader:
    """Reads words as this state takes them: an answer to what is asked is what was asked for.

    While it is asked which of `asked` was said, a number alone is first the one that holds it.
    """

    def read_here(words: str) -> Command | None:
        command = head_by_size(read(words), words, state)
        if command is None:
            return None
        return by_number(asked, command) or meant(state, command)

    return read_here


def _refused(state: State, command: Command) -> bool:
    """Whether the session would only say why the command makes no sense now."""
    try:
        decide(state, command)
    except Refused:
        return True
    return False


def _weight(state: State, command: Command) -> float:
    match command:
        case StringOff():
            return OPEN if kind_asked(state) in {Kind.AROUND, Kind.FIT} else RARE
        case Measured(amount, kind, stitches):
            return reading_weight(state, amount, kind or kind_asked(state), stitches)
        case Answer(amount) if kind_asked(state) is not None:
            return reading_weight(state, amount, kind_asked(state), None)
        case Counted(count):
            return count_weight(state, count)
        case CountedIn(_, None):
            return RARE
        case CountedIn(_, int(sets)):
            return sets_weight(state, sets)
        case Sets(count, more):
            return sets_weight(state, count + (state.sets if more else 0))
        case Weighed(amount):
            return yarn_left_weight(state, amount)
        case _ if isinstance(command, SELDOM):
            return RARE
        case RippedBack(rounds):
            return RARE if 0 < rounds <= state.piece.finished else NEVER
        case Yes() | No():
            asked = state.doubt is not None or state.question == BEGIN
            return ANSWER if asked else RARE
        case Adjust(_, amount):
            return adjustment_weight(state, amount)
        case Change(key, amount) if key == state.question:
            return answer_weight(state, key, amount)
        case Change():
            return RARE
        case Lies():
            return OPEN if kind_asked(state) in {Kind.LOOK, Kind.WORN} else RARE
        case TriedOn(fit):
            return ANSWER if kind_asked(state) is FITS[fit].kind else RARE
        case Next():
            return USUAL
        case StartSides() | StartBrim() | StartNext():
            return RARE
    return _of_answer(state, command)


def _of_answer(state: State, command: Command) -> float:
    """The weight of what answers a question of the interview, or leaves it."""
    match command:
        case Skip():
            if state.question is not None:
                return ANSWER
            return USUAL if state.doubt or state.want else RARE
        case Answer() | Choose() | HeadOf() if state.question is None and state.doubt is None:
            return RARE
        case Answer(amount) if state.question is not None:
            return answer_weight(state, state.question, amount)
        case Choose(key, _):
            # Where a number answers too, as for yarn, it most often does; there are many names.
            named = OPEN if key in LIMITS else ANSWER
            return named if key == state.question else ASIDE
        case HeadOf(age) if age is not None and age > GROWN_YEARS:
            return NEVER
        case HeadOf():
            return ANSWER if state.question == "head_mm" else ASIDE
        case Enough() if state.decorating is not None:
            return OPEN
        case Begin() | Enough():
            return ANSWER if state.question == BEGIN else OPEN
        case EveryQuestion():
            return OPEN
        case Help() if state.question is not None:
            return OPEN
    return 1.0
