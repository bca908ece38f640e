"""Answers to the interview, and to what is in doubt."""

from __future__ import annotations

from collections.abc import Callable

from pattern.session import commands as c
from pattern.trade.head_medians import Sex
from pattern.trade.lengths import Unit
from voice.words.phrases.row import Group, Phrase, Slots, choice, fixed


def _age(sex: Sex | None, *, months: bool = False) -> Callable[[Slots], c.Command]:
    return lambda slots: c.HeadOf(slots["integer"] / (12 if months else 1), sex)


ROWS: tuple[Phrase, ...] = (
    Phrase(
        Group.CONFIRM,
        "",
        "it is so",
        ("yes", "yes please", "yep", "that's right", "correct", "keep it"),
        fixed(c.Yes()),
    ),
    Phrase(
        Group.CONFIRM,
        "",
        "it is not so",
        ("no", "nope", "nah", "that's wrong", "wrong"),
        fixed(c.No()),
    ),
    Phrase(
        Group.CONFIRM,
        "",
        "no, but this much",
        ("no <length>", "no i said <length>"),
        lambda slots: c.No(slots["length"]),
    ),
    Phrase(
        Group.CONFIRM,
        "",
        "leave the question",
        ("skip", "skip that", "don't know"),
        fixed(c.Skip()),
        ("pass", "not now", "not just now", "later", "maybe later", "never mind", "nevermind"),
    ),
    Phrase(
        Group.SETUP,
        "setting up",
        "take the usual for the rest",
        ("begin", "skip the rest"),
        fixed(c.Begin()),
        ("start", "lets begin", "lets start", "begin now", "start now", "take the usual"),
    ),
    Phrase(
        Group.SETUP,
        "setting up",
        "every question, the usual ones too",
        ("ask me everything", "ask me all [the] questions"),
        fixed(c.EveryQuestion()),
        ("ask everything", "every question", "all [the] questions"),
    ),
    choice("unit", "inches", "in inches", "inch", value=Unit.INCH.value),
    choice("unit", "centimetres", "centimeters", "in centimetres", "metric", value=Unit.CM.value),
    choice(
        *("terms", "u s", "u s terms", "american", "american terms"),
        value="us",
        also=("us", "us terms"),
    ),
    choice(
        *("terms", "u k", "u k terms", "british", "british terms"),
        value="uk",
        also=("uk", "uk terms"),
    ),
    choice("joined", "spiral", "in a spiral", value=False),
    choice("joined", "joined", "joined rounds", value=True),
    choice("stacked", "spread", "spread increases", value=False),
    choice("stacked", "stacked", "stacked increases", value=True),
    choice("brim_mm", "no brim", "none", value=0),
    Phrase(
        Group.SETUP,
        "setting up",
        "a grown woman's head by the table",
        ("[a] woman", "[a] lady"),
        fixed(c.HeadOf(None, Sex.FEMALE)),
    ),
    Phrase(
        Group.SETUP,
        "setting up",
        "a grown man's head by the table",
        ("[a] man",),
        fixed(c.HeadOf(None, Sex.MALE)),
    ),
    Phrase(
        Group.SETUP,
        "setting up",
        "a grown head by the table",
        ("[an] adult", "grown up"),
        fixed(c.HeadOf()),
    ),
    Phrase(
        Group.SETUP,
        "setting up",
        "a girl's head by the table",
        ("[a] girl [of | aged] <integer>",),
        _age(Sex.FEMALE),
    ),
    Phrase(
        Group.SETUP,
        "setting up",
        "a boy's head by the table",
        ("[a] boy [of | aged] <integer>",),
        _age(Sex.MALE),
    ),
    Phrase(
        Group.SETUP,
        "setting up",
        "a child's head by the table",
        (
            "age <integer>",
            "aged <integer>",
            "<integer> years [old]",
            "[a] child [of | aged] <integer>",
        ),
        _age(None),
    ),
    Phrase(
        Group.SETUP,
        "setting up",
        "a baby's head by the table",
        ("<integer> months [old]", "[a] baby [of] <integer> months"),
        _age(None, months=True),
    ),
)
"""Phrases that answer."""
