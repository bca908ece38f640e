"""Phrases on what the maker sees: the fabric, a lost place and how it lies."""

from __future__ import annotations

from pattern.session import commands as c
from voice.words.phrases.row import Group, Phrase, fixed

ROWS: tuple[Phrase, ...] = (
    Phrase(
        Group.CHANGE,
        "tension",
        "the fabric is too open",
        ("i see gaps", "there are gaps", "it has (gaps | holes)", "i see holes"),
        fixed(c.Fabric(c.Cloth.GAPS)),
    ),
    Phrase(
        Group.CHANGE,
        "tension",
        "the fabric is too dense",
        ("it is stiff", "it's stiff", "it is too stiff", "it is like a board"),
        fixed(c.Fabric(c.Cloth.STIFF)),
    ),
    Phrase(
        Group.READING,
        "a lost place",
        "plain stitches between two increases that you see",
        (
            "i see <integer> between [the] increases",
            "<integer> between [the] increases",
            "<integer> plain between [the] increases",
            "i see <integer> [plain] stitches between [the] increases",
        ),
        lambda slots: c.LostAt(slots["integer"], between=True),
    ),
    Phrase(
        Group.READING,
        "a lost place",
        "the stitches around, when you do not know the round",
        (
            "i count <integer> round",
            "i count <integer> [stitches] all round",
            "i count <integer> stitches round",
            "which round has <integer> [stitches]",
            "what round has <integer> [stitches]",
        ),
        lambda slots: c.LostAt(slots["integer"]),
    ),
    Phrase(
        Group.READING,
        "looking",
        "the edge is wavy",
        ("it ripples", "[it is] rippling", "it ruffles", "[it is] wavy", "ripples"),
        fixed(c.Lies(c.Look.RIPPLES)),
    ),
    Phrase(
        Group.READING,
        "looking",
        "it bowls up",
        ("it cups", "it is cupping", "it curls up", "[it is] bowl shaped", "cups"),
        fixed(c.Lies(c.Look.CUPS)),
    ),
    Phrase(
        Group.READING,
        "looking",
        "it is flat",
        ("it lies flat", "lies flat", "[it is] flat", "lying flat"),
        fixed(c.Lies(c.Look.FLAT)),
    ),
)
"""Phrases on what is seen."""
