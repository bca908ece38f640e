"""A row of the table of phrases, and short ways to write one."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from pattern.session import commands as c
from pattern.shape.interview import FIXED_BY_RING
from pattern.shape.settings import Answered
from pattern.trade.lengths import Amount


class Group(StrEnum):
    """When a phrase makes sense; a recogniser's grammar is narrowed by groups."""

    ALWAYS = "always"
    WORK = "work"
    ANSWER = "answer"
    READING = "reading"
    CHANGE = "change"
    SETUP = "setup"
    RING = "ring"
    """Answers that the first round fixes: shape, stitch, how rounds end."""
    CONFIRM = "confirm"


Slots = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Phrase:
    """Ways to say one command; the first is the one that help names."""

    group: Group
    topic: str
    """The word of "help with ...", or nothing."""
    help: str
    """The effect, in a few words."""
    forms: tuple[str, ...]
    """JSGF expansions; rules in them are slots."""
    build: Callable[[Slots], c.Command]
    also: tuple[str, ...] = ()
    """More expansions, understood where the words are known, and not listened for by grammar."""


def fixed(command: c.Command) -> Callable[[Slots], c.Command]:
    """Builds the same command whatever was said."""
    return lambda _: command


def choice(key: str, *forms: str, value: Answered, also: tuple[str, ...] = ()) -> Phrase:
    """A row that answers a question of the interview."""
    group = Group.RING if key in FIXED_BY_RING else Group.SETUP
    return Phrase(group, "setting up", "", forms, fixed(c.Choose(key, value)), also)


def asked(
    group: Group, what: c.Asked, help_: str, *forms: str, also: tuple[str, ...] = ()
) -> Phrase:
    """A row that asks to be told something."""
    return Phrase(group, "", help_, forms, fixed(c.Ask(what)), also)


def amount_of(slot: Amount | int) -> Amount:
    """The words of a slot, as an amount."""
    return slot if isinstance(slot, Amount) else Amount(float(slot))


def first(slots: Slots) -> Amount | int:
    """The value of the only slot of a form."""
    first: Amount | int = next(iter(slots.values()))
    return first
