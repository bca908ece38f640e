"""The fewest stitches that a part can have."""

from __future__ import annotations

from pattern.shape.settings import Settings

CLOSES_AT = 6
"""A round of so many stitches is closed by pulling the yarn through them, so that nothing is
narrowed further. Common practice, no source."""


def fewest(settings: Settings, part: int) -> int:
    """Stitches that the part has at the least: the first one those of its ring, any other as many
    as close.
    """
    return min(settings.increases, CLOSES_AT) if part else settings.increases
