"""Measures how loudly others talk, as the level above which a nearer voice stands out."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

import numpy as np

FRAMES_A_SECOND = 50


@dataclass(frozen=True, slots=True)
class TalkSettings:
    """Settings for detecting background talk and what stands out from it.

    Tuned on commands by the tuning voices, 0 to 15 dB above the talk of others.
    """

    memory_s: float = 10.0
    least_s: float = 4.0
    """Sound that must be heard before talk is reported."""
    share: float = 0.4
    """Share of the memory that must be louder than the noise; commands leave longer silences."""
    above_noise_db: float = 9.0
    loudest: float = 0.15
    """Share of the talk's frames that lie above its level."""
    margin_db: float = 3.0


class TalkLevel:
    """Keeps the levels of the last seconds, one for each frame of 20 ms."""

    def __init__(self, settings: TalkSettings | None = None) -> None:
        """Start with an empty memory."""
        self._settings = settings or TalkSettings()
        self._levels_db: deque[float] = deque(
            maxlen=round(self._settings.memory_s * FRAMES_A_SECOND)
        )

    def add(self, level_db: float) -> None:
        """Remember the level of the next frame."""
        self._levels_db.append(level_db)

    def drop(self, frames: int) -> None:
        """Forget the last frames."""
        for _ in range(min(frames, len(self._levels_db))):
            self._levels_db.pop()

    def threshold_db(self, lowest_noise_db: float) -> float:
        """Level above which sound stands out; minus infinity if nobody is talking."""
        settings, count = self._settings, len(self._levels_db)
        if count < settings.least_s * FRAMES_A_SECOND:
            return -np.inf
        levels_db = np.sort(np.array(self._levels_db))
        noise_db = max(lowest_noise_db, levels_db[count // 20]) + settings.above_noise_db
        talk_db = levels_db[np.searchsorted(levels_db, noise_db) :]
        if len(talk_db) < settings.share * count:
            return -np.inf
        return float(talk_db[-1 - int(settings.loudest * len(talk_db))]) + settings.margin_db
