"""A wording as the numbers that a linear classifier weighs: words, word groups, letter groups.

Amounts are masked, since what is meant does not depend on how much it is. Features are counted in
a fixed number of slots by their hash, so that no vocabulary has to be kept.
Source of the hashing: Weinberger et al., "Feature Hashing for Large Scale Multitask Learning",
ICML 2009 (citation from memory).
"""

from __future__ import annotations

import math
import zlib
from collections import Counter

from voice.words.free.amounts import masked
from voice.words.free.spellings import said_plainly

SLOTS = 1 << 16
"""Slots of the hash: so many that few of the features met in learning share one."""
WORD_GROUPS, LETTER_GROUPS = (1, 2, 3), (2, 3, 4, 5)
"""Words in a row, and letters in a row within a word, that are one feature."""


def words_of(text: str) -> list[str]:
    """Plain words of a wording, amounts masked, with a mark at each end."""
    return ["^", *masked(said_plainly(text)).split(), "$"]


def features(text: str) -> dict[int, float]:
    """Slot and weight of each feature: 1 and the logarithm of how often it occurs."""
    found: Counter[str] = Counter()
    words = words_of(text)
    for size in WORD_GROUPS:
        found.update(" ".join(words[at : at + size]) for at in range(len(words) - size + 1))
    for word in words:
        edged = f"<{word}>"
        for size in LETTER_GROUPS:
            found.update(f"{size}{edged[at : at + size]}" for at in range(len(edged) - size + 1))
    slots: Counter[int] = Counter()
    for feature, times in found.items():
        slots[zlib.crc32(feature.encode()) % SLOTS] += times
    return {slot: 1 + math.log(times) for slot, times in slots.items()}
