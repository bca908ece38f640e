"""Phrases of decorating: each has its steps called, one at a time."""

from __future__ import annotations

from pattern.session import commands as c
from pattern.session.commands import Decoration
from voice.words.phrases.row import Group, Phrase, fixed

_FORMS: dict[Decoration, tuple[str, tuple[str, ...]]] = {
    Decoration.RIBBON: (
        "a ribbon or a band, step by step",
        (
            "put a ribbon on",
            "put a band on",
            "how do i put a (ribbon | band) on",
            "how do i sew a (ribbon | band) on",
            "how do i (put | sew) on a (ribbon | band)",
        ),
    ),
    Decoration.LACE: (
        "lace along the edge",
        ("put lace on", "put some lace on", "how do i (put | sew) lace on", "lace around the edge"),
    ),
    Decoration.EDGING: (
        "an edging",
        ("put an edging on", "how do i (put | sew) an edging on"),
    ),
    Decoration.FLOWER: (
        "a flower, a bow or a button",
        (
            "put a flower on",
            "put a (bow | button) on",
            "how do i (put | sew) a (flower | bow | button) on",
        ),
    ),
    Decoration.STIFFENING: (
        "a brim that stands",
        (
            "stiffen the brim",
            "stiffen it",
            "how do i stiffen (the brim | it)",
            "how do i starch (the brim | it)",
            "how do i make the brim stiff",
        ),
    ),
}
ROWS: tuple[Phrase, ...] = (
    *(
        Phrase(Group.ALWAYS, "decorating", help_, forms, fixed(c.Decorate(what)))
        for what, (help_, forms) in _FORMS.items()
    ),
    Phrase(
        Group.ALWAYS,
        "decorating",
        "back to the hat, at the round where you were",
        ("that will do", "back to the hat", "back to work"),
        fixed(c.Enough()),
    ),
)
"""Phrases of decorating."""
