"""Answers to the interview, and to what is in doubt."""

from __future__ import annotations

from collections.abc import Callable

from pattern.session import commands as c
from pattern.shape.catalogue import BRIMMED_HAT, SHAPES
from pattern.shape.interview import FIXED_BY_RING
from pattern.shape.settings import Answered
from pattern.trade.head_medians import Sex
from pattern.trade.lengths import Unit
from pattern.trade.stitches import STITCHES, Stitch
from pattern.trade.yarns_and_hooks import YARNS
from voice.words.phrases.row import Group, Phrase, Slots, fixed

SHORT_WORD = 4
"""Letters of a word that is not taken alone for a shape: with "mat" in the grammar, "next" was
heard worse. Found with eSpeak's default voice in the tests."""


def _choice(key: str, *forms: str, value: Answered) -> Phrase:
    group = Group.RING if key in FIXED_BY_RING else Group.SETUP
    return Phrase(group, "setting up", "", forms, fixed(c.Choose(key, value)))


def _age(sex: Sex | None, *, months: bool = False) -> Callable[[Slots], c.Command]:
    return lambda slots: c.HeadOf(slots["integer"] / (12 if months else 1), sex)


def _stitch_words() -> list[str]:
    names = {s.value for s in Stitch} | {facts.uk_name for facts in STITCHES.values()}
    return sorted(names)


def _shape_forms(name: str) -> tuple[str, ...]:
    """Ways to name a shape; one short word alone is too easily heard in another."""
    forms = (f"(a | make a) {name}",)
    return (name, *forms) if len(name) > SHORT_WORD else forms


ROWS: tuple[Phrase, ...] = (
    Phrase(
        Group.CONFIRM,
        "",
        "it is so",
        ("yes", "yes please", "that's right", "correct", "keep it"),
        fixed(c.Yes()),
    ),
    Phrase(
        Group.CONFIRM, "", "it is not so", ("no", "nope", "that's wrong", "wrong"), fixed(c.No())
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
        ("skip", "skip that", "pass", "don't know"),
        fixed(c.Skip()),
        ("not now", "not just now", "later", "maybe later", "never mind", "nevermind"),
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
    _choice("unit", "inches", "in inches", "inch", value=Unit.INCH.value),
    _choice("unit", "centimetres", "centimeters", "in centimetres", "metric", value=Unit.CM.value),
    _choice(
        "terms", "us", "us terms", "u s", "u s terms", "american", "american terms", value="us"
    ),
    _choice("terms", "uk", "uk terms", "u k", "u k terms", "british", "british terms", value="uk"),
    *(
        Phrase(
            Group.RING, "shapes", "", _shape_forms(shape.name), fixed(c.Choose("shape", shape.name))
        )
        for shape in SHAPES
    ),
    _choice("shape", "(a | make a) sun hat", "a hat with a brim", value=BRIMMED_HAT.name),
    _choice("shape", "(a | make a) basket", value="bowl"),
    Phrase(
        Group.RING,
        "setting up",
        "a stitch by its name",
        (*(f"{name} crochet" for name in _stitch_words()), *_stitch_words()),
        lambda slots: c.Choose("stitch", slots["said"]),
    ),
    *(
        _choice("yarn", yarn.name, f"{yarn.name} weight", value=number)
        for number, yarn in enumerate(YARNS)
    ),
    _choice("joined", "spiral", "in a spiral", value=False),
    _choice("joined", "joined", "joined rounds", value=True),
    _choice("stacked", "spread", "spread increases", value=False),
    _choice("stacked", "stacked", "stacked increases", value=True),
    _choice("brim_mm", "no brim", value=0),
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
