"""Phrases about the rounds as they are worked."""

from __future__ import annotations

from pattern.session import commands as c
from voice.words.phrases.row import Group, Phrase, fixed

ROWS: tuple[Phrase, ...] = (
    Phrase(
        Group.WORK,
        "",
        "the round is done, tell me the next",
        (
            "next",
            "done",
            "[that] round [is] done",
            "next round",
            "next one",
            "finished that",
        ),
        fixed(c.Next()),
        ("okay", "ok", "got it", "finished", "all done", "i'm done", "i'm finished"),
    ),
    Phrase(
        Group.WORK,
        "",
        "one step back",
        ("back", "go back", "back one", "one back", "previous"),
        fixed(c.Back()),
    ),
    Phrase(
        Group.WORK,
        "",
        "one more repeat of this round is done",
        ("set", "one [more] set", "set done", "repeat done"),
        fixed(c.Sets(1, more=True)),
    ),
    Phrase(
        Group.WORK,
        "",
        "that many repeats of this round are done in all",
        ("<integer> sets [done]", "<integer> repeats [done]", "<integer> set"),
        lambda slots: c.Sets(slots["integer"]),
    ),
    Phrase(
        Group.WORK,
        "",
        "that many more repeats are done",
        ("<integer> more sets [done]", "<integer> more repeats [done]"),
        lambda slots: c.Sets(slots["integer"], more=True),
    ),
    Phrase(
        Group.WORK,
        "tension",
        "your stitches come out another size now",
        (
            "my tension [has] changed",
            "the tension [has] changed",
            "i work (tighter | looser) [now]",
            "my stitches are (tighter | looser) [now]",
        ),
        fixed(c.Tension()),
    ),
    Phrase(
        Group.WORK,
        "finishing",
        "one more of another size, when this one is done",
        ("another one for a head of <length>", "another one of <length>"),
        lambda slots: c.Another(slots["length"]),
    ),
    Phrase(
        Group.WORK,
        "finishing",
        "one more of another yarn",
        ("another one of class <integer>", "another one in yarn of class <integer>"),
        lambda slots: c.Another(yarn=slots["integer"]),
    ),
    Phrase(
        Group.WORK,
        "finishing",
        "one more just like it",
        ("another one", "one more like it"),
        fixed(c.Another()),
    ),
    Phrase(
        Group.WORK,
        "tension",
        "other hands work from here on",
        (
            "somebody else goes on",
            "someone else goes on",
            "another person goes on",
            "somebody else takes over",
            "someone else takes over",
        ),
        fixed(c.OtherHands()),
    ),
    Phrase(
        Group.WORK,
        "ripping back",
        "that many rounds are taken out",
        (
            "ripped back <integer> [rounds]",
            "ripped back <integer> round",
            "ripped out <integer> [rounds]",
            "pulled out <integer> [rounds]",
            "i took out <integer> rounds",
        ),
        lambda slots: c.RippedBack(slots["integer"]),
    ),
    Phrase(
        Group.WORK,
        "ripping back",
        "one round is taken out",
        ("ripped back a round", "ripped back", "ripped out a round"),
        fixed(c.RippedBack(1)),
    ),
    Phrase(
        Group.ALWAYS,
        "",
        "take back the last thing said",
        ("undo", "undo that", "take that back", "scratch that"),
        fixed(c.Undo()),
    ),
    Phrase(
        Group.WORK,
        "",
        "stop increasing now",
        ("start the sides", "start sides", "stop increasing", "sides now"),
        fixed(c.StartSides()),
    ),
    Phrase(
        Group.WORK,
        "",
        "the sides are deep enough",
        ("start the brim", "start brim", "brim now"),
        fixed(c.StartBrim()),
    ),
    Phrase(
        Group.WORK,
        "shapes",
        "go on with the next part now",
        ("start the next part", "go to the next part"),
        fixed(c.StartNext()),
    ),
    Phrase(
        Group.WORK,
        "",
        "end the hat here",
        ("finish now", "finish here", "end here"),
        fixed(c.FinishNow()),
    ),
)
"""Phrases about the work."""
