"""Normalises typed or transcribed text to plain words."""

from __future__ import annotations

import re

_SIGNS = str.maketrans(
    {
        "½": " 1/2",
        "¼": " 1/4",
        "¾": " 3/4",
        "⅓": " 1/3",
        "⅔": " 2/3",
        "⅛": " 1/8",
        "⅜": " 3/8",
        "⅝": " 5/8",
        "⅞": " 7/8",
        "\u2019": "'",
        "″": '"',
        "”": '"',
        "“": '"',
    }
)


_ALONE = {"cm": "centimetres", "in": "inches"}
"""Written units that answer which unit it is to be."""
_PLAIN = re.compile("[a-z ]*")


def normalise(text: str) -> str:
    """Typed or transcribed text as plain lower-case words, digits and units apart, no marks."""
    text = text.translate(_SIGNS).lower().replace("'", "")
    if not _PLAIN.fullmatch(text):
        text = _apart(text)
    return " ".join(_ALONE.get(text.strip(), text).split())


def _apart(text: str) -> str:
    text = re.sub(r"(?<=\d),(?=\d{3}(?!\d))", "", text)
    text = re.sub(r'(?<=\d)\s*"', " inches", text)
    text = re.sub(r"(?<=\d)-\s*(?=\d+/\d)", " ", text)
    text = re.sub(r"(?<=\d)(?=[a-z])|(?<=[a-z])(?=\d)", " ", text)
    text = re.sub(r"\.(?!\d)|[^a-z0-9./+ -]", " ", text)
    return re.sub(r"(?<=[a-z0-9])-(?=[a-z])|(?<=[a-z])-(?=\d)", " ", text)
