"""What a person reads stays on one line, of a length that can be read, whatever was put in it."""

from __future__ import annotations

LONGEST_CHARACTERS = 60
"""Of what somebody wrote, where it is quoted; our choice."""


def plain(text: str) -> str:
    """The text with signs that would end the line, or steer the terminal, written as escapes."""
    return "".join(sign if sign.isprintable() else _escape(sign) for sign in text)


def _escape(sign: str) -> str:
    return sign.encode("unicode_escape").decode("ascii")


def shown(text: str) -> str:
    """The text on one line, its end left out where it is long."""
    cut = text[:LONGEST_CHARACTERS]
    return plain(cut) + ("..." if len(text) > len(cut) else "")
