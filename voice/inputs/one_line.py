"""Quotes any text safely: on one line, of readable length."""

from __future__ import annotations

LONGEST_CHARACTERS = 60
"""Maximum length of quoted text; our choice."""


def plain(text: str) -> str:
    """The text with line breaks and terminal control characters escaped."""
    return "".join(sign if sign.isprintable() else _escape(sign) for sign in text)


def _escape(sign: str) -> str:
    return sign.encode("unicode_escape").decode("ascii")


def shown(text: str) -> str:
    """The text on one line, shortened at its end if it is too long."""
    cut = text[:LONGEST_CHARACTERS]
    return plain(cut) + ("..." if len(text) > len(cut) else "")
