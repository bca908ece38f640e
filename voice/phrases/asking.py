"""What asks to be told something."""

from __future__ import annotations

from pattern import commands as c
from voice.phrases.row import Group, Phrase, asked, fixed

ROWS: tuple[Phrase, ...] = (
    asked(Group.ALWAYS, c.Asked.AGAIN, "say it again",
           "again", "repeat [that]", "say [that] again", "what", "pardon"),
    asked(Group.ALWAYS, c.Asked.WHERE, "tell the place",
           "where am i", "where was i", "what round [is this]", "which round [is this]"),
    asked(Group.ALWAYS, c.Asked.HOW_MANY, "tell what is left",
           "how many more", "how much more", "what's left", "how many left"),
    asked(Group.ALWAYS, c.Asked.STITCHES, "tell the stitches",
           "how many stitches", "stitch count"),
    asked(Group.ALWAYS, c.Asked.ROUNDS, "tell the rounds left",
           "how many [more] rounds", "rounds left"),
    asked(Group.ALWAYS, c.Asked.READING, "tell the way to the next reading",
           "when [do] i measure", "next reading", "when do i measure next"),
    asked(Group.ALWAYS, c.Asked.WHAT_NEXT, "tell the round after this one",
           "what comes next", "what's next", "and then"),
    asked(Group.ALWAYS, c.Asked.YARN, "tell the yarn that is needed",
           "how much yarn [do i need]", "how much yarn will i need", "how many balls [do i need]"),
    asked(Group.ALWAYS, c.Asked.ENOUGH, "tell whether the yarn lasts",
           "have i enough [yarn]", "do i have enough [yarn]", "have i got enough [yarn]",
           "is there enough yarn", "will it last", "will the yarn last", "will i run out"),
    asked(Group.ALWAYS, c.Asked.TIME_LEFT, "tell how long the rest takes",
           "how long will it take", "how long [is] left", "how much longer", "when am i done",
           "when will it be done", "when will i be done"),
    asked(Group.ALWAYS, c.Asked.CROWN_TIME, "tell how long the crown takes",
           "when will the crown be done", "when is the crown done",
           "how long will the crown take"),
    Phrase(Group.ALWAYS, "tension", "which hook is better", ("which hook", "is my hook right",
           "what hook [do i need]"), fixed(c.Ask(c.Asked.HOOK))),
    Phrase(Group.ALWAYS, "", "what you can say",
           ("help", "what can i say", "help me"), fixed(c.Help())),
    Phrase(Group.ALWAYS, "", "what there is to make",
           ("shapes", "what can you make", "what shapes are there"), fixed(c.Help("shapes"))),
    Phrase(Group.ALWAYS, "", "more about one thing",
           ("help with (<topic>)",), lambda slots: c.Help(slots["topic"])),
)  # fmt: skip
"""Phrases that ask."""
