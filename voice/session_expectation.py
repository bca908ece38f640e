"""What a session makes likely: a weight for every command, from the state of the piece.

Weights are ratios to a phrase about which nothing is known. Those of numbers follow from the
session's own prediction; the others are judgement, no source, and stay within a factor of thirty,
so that clear speech always wins over them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from pattern.commands import (
    Adjust,
    Answer,
    Back,
    Begin,
    Change,
    Choose,
    Command,
    Counted,
    CountedIn,
    Fabric,
    HaveBalls,
    HeadOf,
    Kind,
    Lies,
    LostAt,
    Measured,
    NewBall,
    Next,
    No,
    Note,
    OtherHands,
    RemindAfter,
    Rests,
    RippedBack,
    Sets,
    Signal,
    Skip,
    StartBrim,
    StartNext,
    StartSides,
    Swatch,
    Tension,
    Weighed,
    Yes,
)
from pattern.decisions import decide
from pattern.lengths import TAPE_UNITS, Amount, grams
from pattern.readings import expected, reading_of
from pattern.refusals import Refused
from pattern.session import State
from pattern.settings import DEFAULT_HEAD_MM, LIMITS
from pattern.weighing import on_hand
from voice.expectation import Expectation, Reader
from voice.phrases import read

ANSWER = 40.0
"""An answer to the open question of the interview: nearly all that is said then is one, and there
are few; so they are this much likelier than one phrase among all. Worked out, not fitted: some four
fifths shared by 8 to 40 answers, against the thousand numbers and phrases that the grammar has."""
PREDICTED = 25.0
"""A reading that is asked for, where it is predicted; in the same way."""
OPEN = 8.0
"""An answer to the question that is open."""
USUAL = 4.0
"""What is said most in the work."""
RARE = 0.3
"""What is said a few times in a hat, or does not fit the stage."""
NEVER = 0.03
"""What cannot be right as far as the session knows; still possible, as it may be mistaken."""
REFUSED = 0.005
"""What the session would only refuse: to act on it would do nothing."""
ASIDE = 0.1
"""In the interview, an answer to another question than the open one."""
GROWN_YEARS = 18.0
"""Nobody older is said by age, as "a child of" so many years: a grown head is asked for as one."""
_USUAL_SPREAD = 0.3
"""Answers lie about the usual one by this share of it, or of the room that its limits leave."""
_ADJUSTED_MM = 50.0
"""Part of a hat is changed by about so much or less; judgement, no source."""
_SPREAD = 3.0
"""A prediction is believed with this many times its standard deviation: hats are not all alike."""


_SELDOM = (HaveBalls, Note, Rests, Tension, LostAt, Swatch, Fabric, OtherHands, NewBall, Signal,
           RemindAfter)  # fmt: skip
"""Commands given a few times in a hat."""


def expectation_of(state: State) -> Expectation:
    """The weights of commands said in this state."""
    return lambda command: REFUSED if _refused(state, command) else _weight(state, command)


def reader_in(state: State) -> Reader:
    """Reads words as this state takes them: an answer to what is asked is what was asked for."""

    def read_here(words: str) -> Command | None:
        command = read(words)
        return None if command is None else meant(state, command)

    return read_here


def meant(state: State, command: Command) -> Command:
    """The command that does the same in this state and says what it does."""
    want = state.want
    if want is not None and want.kind is not Kind.LOOK and state.doubt is None:
        match command:
            case Answer(amount) | Measured(amount, None, None):
                return Measured(amount, want.kind, want.stitches)
    match command:
        case Change(key, amount) if key == state.question and amount.value >= 0:
            return Answer(amount)
    return command


def answer_to(asked: Sequence[Command], otherwise: Expectation) -> Expectation:
    """The weights while it is asked which of some commands was said."""

    def weight(command: Command) -> float:
        return OPEN if isinstance(command, Yes | No) or command in asked else (
            RARE * otherwise(command))  # fmt: skip

    return weight


def _refused(state: State, command: Command) -> bool:
    """Whether the session would only say why the command makes no sense now."""
    try:
        decide(state, command)
    except Refused:
        return True
    return False


def _weight(state: State, command: Command) -> float:
    match command:
        case Measured(amount, kind, stitches):
            return _reading(state, amount, kind or _kind_asked(state), stitches)
        case Answer(amount) if _kind_asked(state) is not None:
            return _reading(state, amount, _kind_asked(state), None)
        case Counted(count):
            return _count(state, count)
        case CountedIn(_, None):
            return RARE
        case CountedIn(_, int(sets)):
            return _sets(state, sets)
        case Sets(count, more):
            return _sets(state, count + (state.sets if more else 0))
        case Weighed(amount):
            return _weight_left(state, amount)
        case _ if isinstance(command, _SELDOM):
            return RARE
        case RippedBack(rounds):
            return RARE / rounds if 0 < rounds <= state.piece.finished else NEVER
        case Yes() | No():
            return OPEN if state.doubt is not None else RARE
        case Skip():
            if state.question is not None:
                return ANSWER
            return USUAL if state.doubt or state.want else RARE
        case Answer() | Choose() | HeadOf() if state.question is None and state.doubt is None:
            return RARE
        case Answer(amount) if state.question is not None:
            return _answer(state, state.question, amount)
        case Choose(key, _):
            return ANSWER if key == state.question else ASIDE
        case HeadOf(age) if age is not None and age > GROWN_YEARS:
            return NEVER
        case HeadOf():
            return ANSWER if state.question == "head_mm" else ASIDE
        case Begin():
            return OPEN
        case Adjust(_, amount):
            return _adjustment(state, amount)
        case Change():
            return RARE
        case Lies():
            return OPEN if _kind_asked(state) is Kind.LOOK else RARE
        case Next():
            return USUAL
        case Back() | StartSides() | StartBrim() | StartNext():
            return RARE
    return 1.0


def _answer(state: State, key: str, amount: Amount) -> float:
    """High near the usual answer; all that the question allows stays possible."""
    limits = LIMITS[key]
    value = amount.mm(state.settings.unit) if limits.tape else amount.value
    usual = {"head_mm": DEFAULT_HEAD_MM, "hook_mm": state.settings.hook, "ease_mm": 0.0,
             "depth_mm": state.settings.depth, "brim_mm": state.settings.brim,
             "start": float(state.settings.increases)}.get(key)  # fmt: skip
    if usual is None:
        return ANSWER
    off = (value - usual) / (_USUAL_SPREAD * max(abs(usual), 25.0 if limits.tape else 1.0))
    return max(1.0, ANSWER * math.exp(-off * off / 2))


def _adjustment(state: State, amount: Amount) -> float:
    """Hats are made a little deeper or wider, hardly ever by a hand's breadth."""
    off = amount.mm(amount.unit or state.settings.unit) / _ADJUSTED_MM
    return max(NEVER, math.exp(-off * off / 2))


def _kind_asked(state: State) -> Kind | None:
    return state.want.kind if state.want is not None else None


def _reading(state: State, amount: Amount, kind: Kind | None, stitches: int | None) -> float:
    """High near the predicted value: its density against that of any length being as likely."""
    if kind is None or kind is Kind.LOOK or state.piece.finished == 0:
        return 1.0
    unit = amount.unit or state.settings.unit
    if unit not in TAPE_UNITS:
        return NEVER
    value_mm, step_mm = amount.mm(unit), amount.step_mm(unit)
    wanted = state.want.stitches if state.want is not None and kind is state.want.kind else None
    reading = reading_of(state.piece, kind, value_mm, step_mm, 0.0, stitches=stitches or wanted)
    hoped = expected(state.piece, reading)
    off = (value_mm - hoped.mean) / (_SPREAD * max(hoped.sd, 1e-6))
    base = PREDICTED if _kind_asked(state) is kind else 1.0
    return max(NEVER, base * math.exp(-off * off / 2))


def _weight_left(state: State, amount: Amount) -> float:
    """High near the yarn that should be left; kitchen scales show whole grams."""
    hoped = on_hand(state)
    if hoped is None:
        return RARE
    off = (grams(amount) - hoped.mean) / (_SPREAD * max(hoped.sd, 1.0))
    return max(NEVER, math.exp(-off * off / 2))


def _count(state: State, count: int) -> float:
    """The count the round should have is likeliest; a slip of a few stitches is not rare."""
    if state.piece.finished == 0:
        return RARE
    return max(NEVER, OPEN * 0.5 ** abs(count - state.piece.stitches))


def _sets(state: State, count: int) -> float:
    """Repeats beyond those of the round cannot be; nor fewer than were said before."""
    if state.offered is None:
        return RARE
    return USUAL if max(state.sets, 1) <= count <= state.offered.sets else NEVER
