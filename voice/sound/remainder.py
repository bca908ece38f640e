"""Tells how much is left of a known sound, and whether something heard is that sound alone.

A voice over the known sound is told by its level: it stands out from what is usually left.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

import numpy as np

from voice.sound.movement import likeness
from voice.sound.path_filter import Floats
from voice.sound.ports import FULL_SCALE

REACH = 8_192
"""Samples by which a sound may be later at the microphone than where it is played."""


@dataclass(frozen=True, slots=True)
class RemainderSettings:
    """From trials with the program's own voice in computed rooms."""

    blocks: int = 100
    """Loud blocks of 32 ms that the gain is taken from."""
    least: int = 40
    """Loud blocks before the gain is told."""
    quantile: float = 0.25
    """Share of the blocks that may be worse: a maker who talks over it makes some worse."""
    loud: float = 0.3
    """Power of a loud block over the usual power."""
    smooth: float = 0.98
    margin_db: float = 9.0
    """Remainder of single blocks over the usual one, at most."""
    same: float = 14.0
    """Likeness from which a sound counts as the known one: the echo along paths that had changed
    had 32 in the middle; a maker over the echo, and what is left of it, at most 13."""


class Remainder:
    """Takes each block before and after; tells the gain and the level of what is left."""

    def __init__(self, settings: RemainderSettings | None = None) -> None:
        """Nothing was taken out yet."""
        self._settings = settings or RemainderSettings()
        self._gains_db: deque[float] = deque(maxlen=self._settings.blocks)
        self._echoes = deque([0.0, 0.0], maxlen=2)
        self._usual = 0.0
        self._gain_db = 0.0

    @property
    def gain_db(self) -> float:
        """Gain that most loud blocks have; 0 until there were enough of them."""
        return self._gain_db

    @property
    def level_db(self) -> float:
        """Level in dBFS above which the last block holds more than what is left."""
        echo_db = 10 * float(np.log10(max(self._echoes) / FULL_SCALE**2 + 1e-12))
        return echo_db - self._gain_db + self._settings.margin_db

    def block(self, microphone: Floats, left: Floats) -> None:
        """Take the next block in which something was taken out."""
        rules = self._settings
        echo = float(np.mean((microphone - left) ** 2))
        self._echoes.append(echo)
        self._usual = rules.smooth * self._usual + (1 - rules.smooth) * echo
        if echo < rules.loud * self._usual:
            return
        power, rest = float(np.mean(microphone**2)), float(np.mean(left**2))
        self._gains_db.append(10 * float(np.log10((power + 1) / (rest + 1))))
        if len(self._gains_db) >= rules.least:
            self._gain_db = max(float(np.quantile(self._gains_db, rules.quantile)), 0.0)

    def silence(self) -> None:
        """Take a block in which nothing was to be heard of the known sound."""
        self._echoes.append(0.0)


class Lately:
    """The last seconds of what was left, beside the known sound."""

    def __init__(self, blocks: int = 480) -> None:
        """Keep so many blocks of 32 ms."""
        self._blocks: deque[tuple[Floats, Floats]] = deque(maxlen=blocks)
        self._same = RemainderSettings().same

    def add(self, left: Floats, known: Floats) -> None:
        """Take the next block, and one channel of the known sound."""
        self._blocks.append((left, known))

    def is_known(self, began: int, ended: int) -> bool:
        """Whether the sound between two places, in samples before the end, is the known one."""
        if not self._blocks:
            return False
        left, known = (np.concatenate(side) for side in zip(*self._blocks, strict=True))
        known = np.concatenate([np.zeros(REACH), known])
        begin, end = max(len(left) - began, 0), min(max(len(left) - ended, 0), len(left))
        if end <= begin:
            return False
        return likeness(left[begin:end], known[begin : end + REACH]) >= self._same
