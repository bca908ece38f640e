"""Detects speech in short frames of sound by their energy."""

from __future__ import annotations

import math
from collections import deque

import numpy as np

from voice.sound.background_talk import TalkLevel
from voice.sound.ports import FULL_SCALE, RATE_HZ, Samples


class EnergyJudge:
    """Counts a frame as speech if it is clearly louder than the quietest tenth of the last seconds.

    While others talk, only sound that is louder than their talk counts, since the person at the
    microphone is louder there than they are.
    """

    frame_samples = RATE_HZ // 50

    def __init__(
        self,
        above_floor_db: float = 9.0,
        lowest_floor_db: float = -62.0,
        memory_s: float = 3.0,
        talk: TalkLevel | None = None,
    ) -> None:
        """`memory_s` limits how long a new steady noise counts as speech."""
        self._above_floor_db = above_floor_db
        self._lowest_floor_db = lowest_floor_db
        self._levels_db: deque[float] = deque(maxlen=round(memory_s * 50))
        self._talk = talk or TalkLevel()
        self._talk_db = -math.inf

    def is_speech(self, frame: Samples, left_db: float = -math.inf) -> bool:
        """Compare the frame's level, without DC offset, with the floor and the talk.

        Up to `left_db` it may be what is left of the program's own voice, which tells nothing.
        """
        power = float(np.var(frame.astype(np.float64))) / FULL_SCALE**2
        level_db = 10 * math.log10(power + 1e-12)
        if level_db <= left_db:
            return False
        self._levels_db.append(level_db)
        self._talk.add(level_db)
        tenth = len(self._levels_db) // 10
        floor_db = float(np.partition(np.array(self._levels_db), tenth)[tenth])
        above_db = max(self._lowest_floor_db, floor_db) + self._above_floor_db
        self._talk_db = self._talk.threshold_db(self._lowest_floor_db)
        return level_db > max(above_db, self._talk_db)

    @property
    def amid_talk(self) -> bool:
        """Whether others were talking around the last frame."""
        return self._talk_db > -math.inf

    def no_others(self, frames: int) -> None:
        """Forget the last frames: they held a phrase, not the talk of others."""
        self._talk.drop(frames)
