"""Phrases that change earlier answers; and bare answers, which may be anything."""

from __future__ import annotations

from pattern.session import commands as c
from pattern.trade.lengths import Amount
from voice.words.phrases.row import Group, Phrase, amount_of, first, fixed


def _change(key: str, help_: str, *forms: str, topic: str = "changing") -> Phrase:
    return Phrase(
        Group.CHANGE, topic, help_, forms, lambda slots: c.Change(key, amount_of(first(slots)))
    )


def _adjust(key: str, help_: str, *forms: str, less: bool) -> Phrase:
    return Phrase(
        Group.CHANGE, "changing", help_, forms, lambda slots: c.Adjust(key, slots["length"], less)
    )


def _negative(amount: Amount) -> Amount:
    return Amount(-amount.value, amount.step, amount.unit)


ROWS: tuple[Phrase, ...] = (
    _adjust(
        "depth_mm", "make the sides deeper", "deeper by <length>", "<length> deeper", less=False
    ),
    _adjust(
        "depth_mm",
        "make the sides shallower",
        "shallower by <length>",
        "<length> shallower",
        less=True,
    ),
    _adjust(
        "brim_mm",
        "make the brim wider",
        "wider [brim] by <length>",
        "<length> wider",
        "brim wider by <length>",
        less=False,
    ),
    _adjust(
        "brim_mm",
        "make the brim narrower",
        "narrower [brim] by <length>",
        "<length> narrower",
        "brim narrower by <length>",
        less=True,
    ),
    Phrase(
        Group.CHANGE,
        "sizes",
        "the pattern for one more head, beside this one",
        ("also write it for a head of <length>", "also write it for <length>"),
        lambda slots: c.AlsoFor(slots["length"]),
    ),
    Phrase(
        Group.CHANGE,
        "sizes",
        "the pattern for this head alone",
        ("only one size",),
        fixed(c.OneSize()),
    ),
    _change("head_mm", "another head", "head <length>", "change [the] head to <length>"),
    _change("yarn", "another yarn", "change [the] yarn to [class] <integer>", "class <integer>"),
    Phrase(
        Group.CHANGE,
        "tension",
        "another hook from here on",
        ("i took (a | an | the) <length> hook", "i changed to (a | an) <length> hook"),
        lambda slots: c.Change("hook_mm", slots["length"]),
    ),
    _change("hook_mm", "another hook", "change [the] hook to <length>", "hook <length>"),
    _change("ease_mm", "looser or tighter", "change [the] ease to <length>", "ease <length>"),
    _change("depth_mm", "another depth", "change [the] depth to <length>", "make it <length> deep"),
    _change(
        "across_mm",
        "the width of what is not worn",
        "change [the] width to <length>",
        "make it <length> wide",
        topic="shapes",
    ),
    _change(
        "height_mm",
        "the height of its sides",
        "change [the] height to <length>",
        "make it <length> high",
        topic="shapes",
    ),
    _change(
        "brim_mm", "another brim", "change [the] brim to <length>", "make the brim <length> [wide]"
    ),
    _change(
        "slope_deg",
        "another slope",
        "change [the] slope to <integer> [degrees]",
        "slope <integer> [degrees]",
    ),
    _change("start", "another start", "change [the] start to <integer>", "start with <integer>"),
    Phrase(
        Group.CHANGE,
        "changing",
        "smaller than the head",
        ("<length> (smaller | tighter)",),
        lambda slots: c.Change("ease_mm", _negative(slots["length"])),
    ),
    Phrase(
        Group.CHANGE,
        "changing",
        "bigger than the head",
        ("<length> (bigger | looser)",),
        lambda slots: c.Change("ease_mm", slots["length"]),
    ),
    Phrase(
        Group.ANSWER,
        "",
        "an answer to what I asked",
        ("<length>", "<integer> degrees"),
        lambda slots: c.Answer(amount_of(first(slots))),
    ),
)
"""Phrases that change an answer, and the bare answer last."""
