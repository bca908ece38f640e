"""All that bears on what to do about one utterance, and what came of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from pattern.session.commands import Command
from voice.hearing.attention import Attention, Called
from voice.hearing.utterance_part import Part
from voice.recognisers.recogniser import Hypothesis, Opinion
from voice.words.free.matched import Match
from voice.words.phrases import Group, read

Expectation = Callable[[Command], float]
"""The weight of a command before it is heard: a ratio to one about which nothing is known."""
Reader = Callable[[str], Command | None]
"""The command that words mean here; None for words that mean none."""


def flat(command: Command) -> float:  # noqa: ARG001 - it is an Expectation
    """The expectation of a session that expects nothing in particular."""
    return 1.0


class Action(StrEnum):
    """The action that hearing something leads to."""

    ACT = "act"
    ASK = "ask"
    SILENT = "silent"


class Reason(StrEnum):
    """Why an utterance is acted on, asked about, or passed over."""

    CLEAR = "clear"
    PICKED = "picks what was asked about"
    FREE = "free wording"

    SEVERAL = "one of two"
    UNSURE = "not sure enough"
    DOUBTED = "no look confirms it"
    NOT_CLEAR_IN_TALK = "not clear amid talk"
    FREE_CHANGE = "free wording that changes the piece, ends the call, is doubtful or only likely"
    UNCONFIRMED = "changes the piece and is not confirmed"
    BARE_REST = "a number that may be the end of more"

    NO_PHRASE = "no phrase"
    FAINT_ANSWER = "yes or no, and not clear"
    UNLIKELY = "too unlikely to ask about"
    NOT_CALLED = "without the attention words"
    LEFT_OUT = "a phrase without the attention words"
    CALL_ALONE = "the attention words alone"
    CUT_OFF = "its beginning was not heard"
    NEITHER = "no to all that was asked about"
    PAUSED = "the piece is paused"
    TALKED_OVER = "heard under what has to be said to its end"


@dataclass(frozen=True, slots=True)
class Context:
    """The situation in which an utterance is heard."""

    expectation: Expectation = flat
    groups: frozenset[Group] = frozenset(Group)
    """Phrases that may be said now."""
    reader: Reader = read
    attention: Attention | None = None
    """Words that may come first, and whether they must; None where there are none."""
    asked: tuple[Command, ...] = ()
    """Which of these was meant is asked, the likelier first."""
    paused: bool = False
    insists: bool = False
    """Whether the program is saying something that only a phrase stops."""
    free: Callable[[str], tuple[Match, ...]] | None = None
    """All that free wording may mean; None where it is not listened to."""
    others: int = 0
    """How many utterances that were no phrase came shortly before."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """The evidence on an utterance."""

    opinion: Opinion
    """The opinion of the recognisers, attention words included."""
    part: Part = Part.WHOLE
    amid_talk: bool = False
    unfinished: bool = False
    """Whether the likeliest words may be the beginning of something else."""
    without_call: Opinion | None = None
    """Their opinion without attention words, where these were missing."""
    before: Verdict | None = None
    """The verdict on its beginning, where more of it was waited for."""
    waited: bool = False
    """Whether more of it was waited for already."""
    texts: tuple[Hypothesis, ...] | None = None
    """The texts it may be in free English, likeliest first; None where that was not listened to."""
    seconds: float = 0.0
    """Time that the recognisers took."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """A decision on one utterance, and its reason."""

    text: str
    """The words taken, or asked about first; empty when silent."""
    command: Command | None
    """To be done, or asked about first; None when silent."""
    action: Action
    reason: Reason
    score: float = 0.0
    """Probability 0..1 of the words before the session's expectation."""
    alternatives: tuple[Hypothesis, ...] = ()
    """All that may have been said, likeliest first; to ask: the one or two to choose from."""
    engine: str = ""
    seconds: float = 0.0
    """From the last sample to the end of recognition."""
    candidates: tuple[Command, ...] = ()
    """To ask: the commands to choose from, those of `alternatives`."""
    said: Command | None = None
    """The command of the words themselves, whether it is to be done or not; None for no phrase."""
    called: Called = Called.NOT
    """Whether the attention words were heard."""
    unfinished: bool = False
    """Whether the likeliest words may be the beginning of something else."""
    missed: str = ""
    """To be silent about: words in free English that were probably meant for the program."""
    wants_text: bool = False
    """Whether it is to be written down in free English first, and judged with that."""
    more_s: float = 0.0
    """For how long after its last speech more is to be waited for first; 0 where it is whole."""
