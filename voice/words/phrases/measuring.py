"""Phrases about readings of the tape, counts and swatches."""

from __future__ import annotations

from collections.abc import Callable

from pattern.session import commands as c
from voice.words.phrases.row import Group, Phrase, Slots


def _measured(kind: c.Kind | None) -> Callable[[Slots], c.Command]:
    return lambda slots: c.Measured(slots["length"], kind)


def _reading(kind: c.Kind | None, help_: str, *forms: str) -> Phrase:
    return Phrase(Group.READING, "measuring", help_, forms, _measured(kind))


def _swatch(help_: str, form: str, *, by_rounds: bool, washed: bool) -> Phrase:
    return Phrase(
        Group.CHANGE,
        "a swatch",
        help_,
        (form,),
        lambda slots: c.Swatch(slots["integer"], slots["length"], by_rounds, washed),
    )


ROWS: tuple[Phrase, ...] = (
    _reading(
        None,
        "a reading of the tape; I take it as the one that fits",
        "measured <length>",
        "it measures <length>",
        "[the] tape says <length>",
    ),
    _reading(
        c.Kind.ACROSS,
        "across the crown at its widest",
        "across <length>",
        "measured <length> across",
        "[it is] <length> across",
        "[it is] <length> wide",
        "across flats <length>",
    ),
    _reading(
        c.Kind.CORNERS,
        "from a corner across the middle, of a crown that has corners",
        "across corners <length>",
        "<length> across corners",
        "corner to corner <length>",
        "corner to side <length>",
    ),
    _reading(
        c.Kind.AROUND,
        "around the edge",
        "around <length>",
        "measured <length> around",
        "<length> around",
        "<length> all round",
    ),
    _reading(
        c.Kind.DEPTH,
        "from the centre down along the cloth",
        "depth <length>",
        "<length> deep",
        "[the] depth is <length>",
        "measured <length> deep",
    ),
    _reading(
        c.Kind.BRIM,
        "the width of the brim",
        "brim <length> [wide]",
        "brim (is | of) <length> [wide]",
        "the brim is <length> [wide]",
        "measured <length> of brim",
    ),
    Phrase(
        Group.READING,
        "measuring",
        "stitches in a length along the edge",
        (
            "<integer> stitches in <length>",
            "<integer> stitches are <length>",
            "<integer> stitches measure <length>",
        ),
        lambda slots: c.Measured(slots["length"], c.Kind.ALONG, slots["integer"]),
        (
            "<integer> (stitches | sts) (is | over | make | makes | gives | come to | comes to)"
            " <length>",
            "<integer> (sts) in <length>",
        ),
    ),
    Phrase(
        Group.READING,
        "counting",
        "the stitches found in the last round",
        (
            "count <integer>",
            "i have <integer> [stitches]",
            "[the] count is <integer>",
            "i count <integer>",
            "<integer> stitches",
            "counted <integer>",
        ),
        lambda slots: c.Counted(slots["integer"]),
    ),
    Phrase(
        Group.READING,
        "counting",
        "the stitches of this round after some sets",
        (
            "count <integer> after <few> (sets | set)",
            "count <integer> in this round after <few> (sets | set)",
            "<integer> stitches after <few> (sets | set)",
        ),
        lambda slots: c.CountedIn(slots["integer"], slots["few"]),
    ),
    Phrase(
        Group.READING,
        "counting",
        "the stitches of this round so far: the place in it",
        ("count <integer> in this round", "<integer> stitches in this round"),
        lambda slots: c.CountedIn(slots["integer"]),
    ),
    _swatch(
        "stitches of a swatch, worked in the round",
        "swatch <integer> stitches [in] <length>",
        by_rounds=False,
        washed=False,
    ),
    _swatch(
        "its rounds", "swatch <integer> (rounds | rows) [in] <length>", by_rounds=True, washed=False
    ),
    _swatch(
        "the same stitches after washing",
        "washed [swatch] <integer> stitches [in] <length>",
        by_rounds=False,
        washed=True,
    ),
    _swatch(
        "its rounds after washing",
        "washed [swatch] <integer> (rounds | rows) [in] <length>",
        by_rounds=True,
        washed=True,
    ),
)
"""Phrases of readings, counts and swatches."""
