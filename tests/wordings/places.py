"""Places in a session at which wordings are said, and what comes of one there."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from copy import copy
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from pattern.journal.lines import Turn
from pattern.session import commands as c
from pattern.session.events import Event
from pattern.session.state import State
from pattern.shape.interview import BEGIN
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from voice.caller.caller import Caller
from voice.caller.keeping import Unkept
from voice.caller.reply import Reply

FOLDER = Path(__file__).parent
_MOST_TURNS = 300
"""More than any piece here takes."""
ANSWERS = (
    c.Change("head_mm", Amount(56.0, unit=Unit.CM)),
    c.Choose("yarn", 4),
    c.Change("hook_mm", Amount(5.0, unit=Unit.MM)),
)
_FIRST = {"unit": "centimetres", "head_mm": "58", "yarn": "4", "hook_mm": "5"}
_KEYS = {
    "I-terms": "terms",
    "I-head": "head_mm",
    "I-yarn": "yarn",
    "I-hook": "hook_mm",
    "I-stitch": "stitch",
    "I-start": "start",
    "I-ease": "ease_mm",
    "I-depth": "depth_mm",
    "I-brim": "brim_mm",
    "I-rounds": "joined",
    "I-begin": BEGIN,
}


@dataclass(frozen=True)
class Case:
    """A wording, where it is said, and the phrase of the table that means the same."""

    place: str
    phrase: str
    said: str


def cases(file: Path) -> Iterator[Case]:
    """The wordings of a file."""
    place = phrase = ""
    for line in file.read_text("utf-8").splitlines():
        if found := re.fullmatch(r"\[(.*?): (.*)\]", line):
            place, phrase = found.groups()
        elif line:
            yield Case(place, phrase, line)


def others() -> tuple[str, ...]:
    """Sentences that a maker says to somebody else, or that nobody means."""
    lines = (FOLDER / "others.txt").read_text("utf-8").splitlines()
    return tuple(line for line in lines if line and not line.startswith("#"))


@cache
def turns_to(place: str) -> tuple[Turn[Event], ...]:
    """The turns of a piece that has come to a place."""
    journal = Unkept("hat")
    caller = Caller(journal)
    if place.startswith("I-"):
        caller.open()
        if place != "I-begin":
            caller.hear("ask me everything")
        for _ in _until(lambda: caller.state.question in {_KEYS[place], None}):
            caller.hear(_FIRST.get(str(caller.state.question), "skip"))
        return journal.turns
    caller.open(ANSWERS)
    for _ in _until(lambda: _reached(caller.state, place)):
        ends = place == "F" and caller.state.stage is Stage.BRIM and caller.state.piece.brim_rounds
        caller.hear("yes" if caller.state.doubt else "finish now" if ends else "next")
    for words in {"P": ["pause"], "Q": ["around forty two"]}.get(place, []):
        caller.hear(words)
    return journal.turns


def _until(come: Callable[[], bool]) -> Iterator[int]:
    """Turns until it has come to a place, which it must in some hundreds."""
    for turn in range(_MOST_TURNS):
        if come():
            return
        yield turn
    raise AssertionError("the piece never comes to the place")


def _reached(state: State, place: str) -> bool:
    crown = state.stage is Stage.CROWN and state.piece.finished >= 7
    wants = state.want.kind if state.want else None
    return {
        "R": crown and wants is None,
        "P": crown,
        "Q": crown,
        "M": state.stage is Stage.CROWN and (wants is c.Kind.ACROSS or state.piece.finished >= 11),
        "A": state.stage is Stage.SIDES and wants is c.Kind.AROUND,
        "S": state.stage is Stage.SIDES and state.piece.finished >= 18,
        "B": state.stage is Stage.BRIM and state.piece.brim_rounds >= 3 and wants is None,
        "F": state.stage is Stage.FINISHING,
    }[place]


@cache
def _come_to(place: str) -> Caller:
    """A caller that has come to a place, to be copied."""
    journal = Unkept("hat")
    journal.turns = turns_to(place)
    return Caller(journal)


def caller_at(place: str) -> Caller:
    """A caller that has come to a place, and may be spoken to."""
    caller = copy(_come_to(place))
    caller._journal = copy(caller._journal)
    return caller


def said(place: str, *words: str) -> tuple[State, list[Reply]]:
    """The state before words, and the replies to them, in a copy of the caller there."""
    caller = caller_at(place)
    before = caller.state
    return before, [caller.hear(each) for each in words]
