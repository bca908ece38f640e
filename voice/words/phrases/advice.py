"""Phrases that ask for advice: hook, finishing, trims, sizes and help."""

from __future__ import annotations

from collections.abc import Callable

from pattern.session import commands as c
from pattern.trade.head_medians import Sex
from voice.words.phrases.row import Group, Phrase, Slots, fixed


def _head_size(sex: Sex | None, parts: int = 1) -> Callable[[Slots], c.Command]:
    return lambda slots: c.HeadSize(slots["integer"] / parts, sex)


ROWS: tuple[Phrase, ...] = (
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
"""Phrases that ask for advice."""
