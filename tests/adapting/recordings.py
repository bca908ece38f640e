"""Real people to learn from, who read telephone prompts in five languages, and letters and
syllables in many (Debian: asterisk-core-sounds-*-g722, klettres-data); their words are not needed,
or are those that the net writes.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from tests.adapting import net
from tests.adapting.said import Said, read, said
from voice.ports import FULL_SCALE, RATE_HZ

_PROMPTS, _SOUNDS = Path("/usr/share/asterisk/sounds"), Path("/usr/share/klettres")


def prompts(_: random.Random) -> Iterator[Said]:
    """English prompts with the words that the published net writes, where these have no digits."""
    write = net.writer()
    for one in _recorded("en_US_*/**/*.g722"):
        words = write(one.samples.astype(np.float32) / np.float32(FULL_SCALE))
        if words is not None and words.isascii() and not re.search("[0-9]", words):
            yield Said(one.samples, words)


def people(_: random.Random) -> Iterator[Said]:
    """All prompts, letters and syllables, without words."""
    yield from _recorded("**/*.g722")
    for file in sorted(_SOUNDS.rglob("*.ogg")):
        yield from said(*read(file), None)


def _recorded(pattern: str) -> Iterator[Said]:
    import av

    for file in sorted(_PROMPTS.glob(pattern)):
        if "silence" in file.parts:
            continue
        with av.open(str(file), format="g722") as holder:
            parts = [frame.to_ndarray().ravel() for frame in holder.decode(audio=0)]
        if parts:
            yield from said(np.concatenate(parts), RATE_HZ, None)
