"""Claps or knocks as a code, for when words are not understood: sound goes in, a number comes out.

A clap rises within a hundredth of a second, dies away within an eighth, and stands in quiet: a
group that holds any other sound, or follows on one, is none. The limits are starting values from
synthetic claps (noise that dies away), no source.
"""

from __future__ import annotations

from collections import deque

import numpy as np

from voice.ports import FULL_SCALE, RATE_HZ, Samples

_FRAME = RATE_HZ // 200
LOUD_DB = -26.0
"""A clap near the microphone is louder than this for a two-hundredth of a second; hook and needle
clicks are softer, by judgement."""
OVER_DB, RISE_DB, FALL_DB = 25.0, 18.0, 15.0
"""Over what was before, within a hundredth of a second, and down again after `DIES_S`."""
DIES_S = 0.12
CLOSEST_S, FARTHEST_S = 0.18, 0.7
"""From one clap of a group to the next."""
QUIET_S = 0.5
"""Before a group and after it."""
_RISE, _DIES, _QUIET = 2, round(DIES_S * 200), round(QUIET_S * 200)


class ClapCounter:
    """Counts the claps of each group; results do not depend on how the sound is cut up."""

    def __init__(self) -> None:
        """Start in quiet that has not lasted yet."""
        self._tail = np.zeros(0, np.int16)
        self._levels: deque[float] = deque(maxlen=_RISE + 1)
        self._floor: deque[float] = deque(maxlen=200)
        self._at = 0
        self._claps: list[int] = []
        self._peak_db = 0.0
        self._other = 0
        self._busy_until = 0
        """Any other sound counts as going on until then: no group may begin."""

    @property
    def counting(self) -> bool:
        """Whether a group has begun."""
        return bool(self._claps)

    def forget(self) -> None:
        """What came so far was no group, as when the program has spoken."""
        self._claps.clear()
        self._other = 0
        self._busy_until = self._at + _QUIET

    def feed(self, samples: Samples) -> int:
        """Take the next samples at `RATE_HZ`; the number of claps of a group that has just ended,
        0 where none has.
        """
        stream = np.concatenate([self._tail, samples])
        whole = len(stream) // _FRAME * _FRAME
        self._tail = stream[whole:]
        frames = stream[:whole].reshape(-1, _FRAME).astype(np.float64)
        levels = 10 * np.log10(np.var(frames, axis=1) / FULL_SCALE**2 + 1e-12)
        return max(map(self._take, levels), default=0)

    def _take(self, level_db: float) -> int:
        self._at += 1
        before_db = self._levels[0] if len(self._levels) > _RISE else level_db
        self._levels.append(level_db)
        floor_db = sorted(self._floor)[len(self._floor) // 5] if self._floor else level_db
        self._floor.append(level_db)
        since = self._at - self._claps[-1] if self._claps else self._at
        sudden = level_db > max(LOUD_DB, floor_db + OVER_DB, before_db + RISE_DB)
        if self._claps and since <= _DIES:
            self._peak_db = max(self._peak_db, level_db)
        elif sudden:
            self._clap(since, level_db)
        elif level_db > (self._peak_db if self._claps else floor_db + OVER_DB) - FALL_DB:
            self._other += 1
            if self._other > _RISE:  # the first part of a clap may be soft
                self.forget()
        elif self._claps and since >= _QUIET + _DIES:
            return self._ended()
        return 0

    def _clap(self, since: int, level_db: float) -> None:
        apart = CLOSEST_S * 200 <= since <= FARTHEST_S * 200
        if (self._claps and not apart) or (not self._claps and self._at < self._busy_until):
            self.forget()
            return
        self._claps.append(self._at)
        self._peak_db, self._other = level_db, 0

    def _ended(self) -> int:
        count = len(self._claps)
        self._claps.clear()
        return count
