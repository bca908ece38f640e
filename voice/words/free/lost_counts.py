"""Counts by which a lost place is found. Common usage, no source."""

from __future__ import annotations

import re

from pattern.session import commands as c
from voice.words.free.amounts import MASK, masked
from voice.words.free.said import Said


def between(said: Said) -> c.Command | None:
    """Plain stitches between two increases: the number before these words."""
    before = re.search(rf"{MASK}(?= (?:\w+ ){{0,4}}between\b)", masked(said.words))
    if before is None:
        return c.LostAt(said.whole, between=True) if said.whole is not None else None
    place = masked(said.words)[: before.start()].split().count(MASK)
    count = said.amounts[place].whole() if place < len(said.amounts) else None
    return c.LostAt(count, between=True) if count is not None else None
