"""Phrases that ask to be told something."""

from __future__ import annotations

from collections.abc import Callable

from pattern.session import commands as c
from pattern.trade.head_medians import Sex
from voice.words.phrases.row import Group, Phrase, Slots, asked, fixed


def _head_size(sex: Sex | None, parts: int = 1) -> Callable[[Slots], c.Command]:
    return lambda slots: c.HeadSize(slots["integer"] / parts, sex)


ROWS: tuple[Phrase, ...] = (
    asked(
        Group.ALWAYS,
        c.Asked.AGAIN,
        "say it again",
        "again",
        "repeat [that]",
        "say [that] again",
        "what",
        "pardon",
    ),
    asked(
        Group.ALWAYS,
        c.Asked.MORE,
        "the rest of a long answer",
        "tell me more",
        "say more",
        "tell me the rest",
    ),
    asked(
        Group.ALWAYS,
        c.Asked.PLAN,
        "the plan in short",
        "tell me the plan",
        "say the plan",
        "what is the plan",
        "what's the plan",
    ),
    asked(
        Group.ALWAYS,
        c.Asked.WHERE,
        "tell the place",
        "where am i",
        "where was i",
        "what round [is this]",
        "which round [is this]",
    ),
    asked(
        Group.ALWAYS,
        c.Asked.HOW_MANY,
        "tell what is left",
        "how many more",
        "how much more",
        "what's left",
        "how many left",
    ),
    asked(Group.ALWAYS, c.Asked.STITCHES, "tell the stitches", "how many stitches", "stitch count"),
    asked(
        Group.ALWAYS,
        c.Asked.ROUNDS,
        "tell the rounds left",
        "how many [more] rounds",
        "rounds left",
    ),
    asked(
        Group.ALWAYS,
        c.Asked.READING,
        "tell the way to the next reading",
        "when [do] i measure",
        "next reading",
        "when do i measure next",
    ),
    asked(
        Group.ALWAYS,
        c.Asked.WHAT_NEXT,
        "tell the round after this one",
        "what comes next",
        "what's next",
        "and then",
    ),
    asked(
        Group.ALWAYS,
        c.Asked.YARN,
        "tell the yarn that is needed",
        "how much yarn [do i need]",
        "how much yarn will i need",
        "how many balls [do i need]",
    ),
    asked(
        Group.ALWAYS,
        c.Asked.ENOUGH,
        "tell whether the yarn lasts",
        "have i enough [yarn]",
        "do i have enough [yarn]",
        "have i got enough [yarn]",
        "is there enough yarn",
        "will it last",
        "will the yarn last",
        "will i run out",
    ),
    asked(
        Group.ALWAYS,
        c.Asked.TIME_LEFT,
        "tell how long the rest takes",
        "how long will it take",
        "how long [is] left",
        "how much longer",
        "when am i done",
        "when will it be done",
        "when will i be done",
    ),
    asked(
        Group.ALWAYS,
        c.Asked.CROWN_TIME,
        "tell how long the crown takes",
        "when will the crown be done",
        "when is the crown done",
        "how long will the crown take",
    ),
    Phrase(
        Group.ALWAYS,
        "tension",
        "which hook is better",
        ("which hook", "is my hook right", "what hook [do i need]"),
        fixed(c.Ask(c.Asked.HOOK)),
    ),
    Phrase(
        Group.ALWAYS,
        "finishing",
        "the steps after the last round",
        ("how do i finish [it]", "how do i end it"),
        fixed(c.Ask(c.Asked.FINISHING)),
    ),
    Phrase(
        Group.ALWAYS,
        "finishing",
        "how it is washed and shaped",
        ("how do i wash it", "how do i block it"),
        fixed(c.Ask(c.Asked.WASHING)),
    ),
    Phrase(
        Group.ALWAYS,
        "trims",
        "the length of a band, and where to tack it",
        ("how long a band", "how long is a band", "how long a ribbon"),
        fixed(c.Ask(c.Asked.BAND)),
    ),
    Phrase(
        Group.ALWAYS,
        "trims",
        "the length of an edging",
        ("how long an edging", "how long is an edging"),
        fixed(c.Ask(c.Asked.EDGING)),
    ),
    Phrase(
        Group.ALWAYS,
        "trims",
        "the brim against the width advised for shade",
        ("is the brim wide enough", "how wide a brim for shade"),
        fixed(c.Ask(c.Asked.SHADE)),
    ),
    Phrase(
        Group.ALWAYS,
        "sizes",
        "how big heads of that age are",
        (
            "how big is a head of <integer> years",
            "how big is a head of <integer>",
            "how big is a child's head of <integer> [years]",
        ),
        _head_size(None),
    ),
    Phrase(
        Group.ALWAYS,
        "sizes",
        "the same in months",
        ("how big is a head of <integer> months", "how big is a baby's head of <integer> months"),
        _head_size(None, 12),
    ),
    Phrase(
        Group.ALWAYS,
        "sizes",
        "a girl's head",
        ("how big is a girl's head of <integer> [years]",),
        _head_size(Sex.FEMALE),
    ),
    Phrase(
        Group.ALWAYS,
        "sizes",
        "a boy's head",
        ("how big is a boy's head of <integer> [years]",),
        _head_size(Sex.MALE),
    ),
    Phrase(
        Group.ALWAYS,
        "sizes",
        "a grown head",
        ("how big is a grown head", "how big is a head"),
        fixed(c.HeadSize()),
    ),
    Phrase(
        Group.ALWAYS,
        "sizes",
        "big heads and small ones, by age",
        ("how big are heads", "tell me the head sizes"),
        fixed(c.Ask(c.Asked.HEADS)),
    ),
    Phrase(
        Group.ALWAYS,
        "sizes",
        "what each of several sizes needs",
        ("tell me the sizes", "what do the sizes need", "compare the sizes"),
        fixed(c.Ask(c.Asked.SIZES)),
    ),
    Phrase(
        Group.ALWAYS, "", "what you can say", ("help", "what can i say", "help me"), fixed(c.Help())
    ),
    Phrase(
        Group.ALWAYS,
        "",
        "what there is to make",
        ("other shapes", "shapes", "what can you make", "what shapes are there"),
        fixed(c.Help("shapes")),
    ),
    Phrase(
        Group.ALWAYS,
        "",
        "more about one thing",
        ("help with (<topic>)",),
        lambda slots: c.Help(slots["topic"]),
    ),
)
"""Phrases that ask."""
