"""How loud others talk: the level above which someone nearer stands out."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

import numpy as np

FRAMES_A_SECOND = 50


@dataclass(frozen=True, slots=True)
class TalkSettings:
    """When there is talk and what stands out from it.

    Chosen by looking at the cuts of commands by the tuning voices, 0 to 15 dB over talk of others.
    """

    memory_s: float = 10.0
    least_s: float = 4.0
    """Sound heard before anything is said about talk."""
    share: float = 0.4
    """Of the memory that must be louder than the noise: one who gives commands is silent longer."""
    above_noise_db: float = 9.0
    loudest: float = 0.15
    """Share of the frames of talk that lie above its level."""
    margin_db: float = 3.0


class TalkLevel:
    """Remembers the levels of the last seconds, one for each frame of 20 ms."""

    def __init__(self, settings: TalkSettings | None = None) -> None:
        """Nothing was heard yet."""
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
        """What is louder than this stands out; minus infinity where nobody talks on."""
        settings, count = self._settings, len(self._levels_db)
        if count < settings.least_s * FRAMES_A_SECOND:
            return -np.inf
        levels_db = np.sort(np.array(self._levels_db))
        noise_db = max(lowest_noise_db, levels_db[count // 20]) + settings.above_noise_db
        talk_db = levels_db[np.searchsorted(levels_db, noise_db) :]
        if len(talk_db) < settings.share * count:
            return -np.inf
        return float(talk_db[-1 - int(settings.loudest * len(talk_db))]) + settings.margin_db
