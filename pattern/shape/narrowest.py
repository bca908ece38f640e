"""The fewest stitches that a part can have."""

from __future__ import annotations

from pattern.shape.settings import Settings

CLOSES_AT = 6
"""Stitches at which a round is closed by drawing the yarn through them, so no part is narrower.
Common practice, no source."""


def fewest(settings: Settings, part: int) -> int:
    """Fewest stitches of a part.

    The first part has at least those of its ring, the others CLOSES_AT or the ring's if fewer.
    """
    return min(settings.increases, CLOSES_AT) if part else settings.increases
