"""Takes the known sound away, by the better of two filters.

One filter does the work. When it does worse than it did, a second one that trusts nothing learnt
so far runs beside it, and takes its place if it does better: so a moved microphone is learnt anew,
and a voice does no harm. Two such filters: K. Ochiai, T. Araseki and T. Ogihara, "Echo canceler
with two echo path models", IEEE Transactions on Communications 25(6), 1977.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from voice.sound.path_filter import Floats, PathFilter, PathSettings
from voice.sound.ports import FULL_SCALE
from voice.sound.rejoining import rejoined

KEPT = 2
"""Ways that are kept: that of now, and the one before, should the maker go back to it."""


@dataclass(frozen=True, slots=True)
class RivalSettings:
    """When the second filter runs, in blocks of 32 ms; by trials with paths that change."""

    smooth: float = 0.9
    """Weight of earlier blocks in the powers that are compared."""
    fall_db: float = 6.0
    """Loss of gain after which something may have changed."""
    low_db: float = 12.0
    """Gain above which nothing is wrong, however high it was before."""
    fall: int = 12
    """Blocks for which the loss lasts."""
    least: int = 10
    """Blocks before the second filter may win."""
    most: int = 94
    rest: int = 30
    """Blocks between two trials."""
    better_db: float = 2.0
    forgets_db: float = 0.01
    """Decay of the best gain from block to block, since one film differs from the next."""


class Found(NamedTuple):
    """Paths that fit again."""

    kept: PathFilter
    late: float
    """Samples by which the channels are later than they were."""


class Paths:
    """Paths of all channels, learnt from every block; sound is on the scale of samples."""

    def __init__(
        self, channels: int, settings: PathSettings | None = None, *, bends: bool = False
    ) -> None:
        """Know nothing of the paths yet; where it `bends`, a loudspeaker's distortion is one."""
        self._bends = bends
        self._filter = PathFilter(channels + bends, settings)
        self._rival: PathFilter | None = None
        self._kept: deque[PathFilter] = deque(maxlen=KEPT)
        self._new = True
        self._rules = RivalSettings()
        self._heard = self._left = self._rivals_left = 0.0
        self._best_db = 0.0
        self._low = self._age = 0

    def block(self, microphone: Floats, channels: Floats) -> Floats:
        """Remainder of the microphone's block; the block itself while nothing plays."""
        channels = self._with_bend(channels)
        if not self._filter.play(channels):
            return microphone
        clips = bool(np.max(np.abs(microphone)) >= FULL_SCALE - 1)
        left = microphone - self._filter.heard()
        if not clips:
            self._filter.learn(left)
        if self._rival is not None:
            self._rival.play(channels)
            rivals = microphone - self._rival.heard()
            if not clips:
                self._rival.learn(rivals)
            self._rivals_left = self._smoothed(self._rivals_left, rivals)
        self._heard = self._smoothed(self._heard, microphone)
        self._left = self._smoothed(self._left, left)
        self._judge()
        return left

    def doubt(self) -> None:
        """Learn the paths anew at once, from what is known of them."""
        self._filter.doubt()

    def keep(self) -> None:
        """Keep a copy of what is known now, beside that of a way before."""
        if not self._new:
            self._kept.pop()
        self._new = False
        self._kept.append(self._filter.copy())

    def found_again(self, microphone: Floats, played: Floats, left: float) -> Found | None:
        """Paths that were kept and leave less of the microphone's sound than `left`; takes the same
        as `rejoined`.
        """
        for kept in reversed(self._kept):
            found = rejoined(microphone, self._with_bend(played), kept.responses())
            if found is not None and found.better_than(left):
                return Found(kept, found.late)
        return None

    def played_before(self, channels: Floats) -> None:
        """Replace the last blocks played, some of which were missing; see `PathFilter`."""
        for each in (self._filter, self._rival):
            if each is not None:
                each.played_before(self._with_bend(channels))

    def begin_anew(self, channels: Floats) -> None:
        """Forget the paths after the channels were moved in time; takes the same as
        `played_before`.
        """
        self._filter.forget()
        self._new = True
        self._go_on(channels)

    def go_back(self, kept: PathFilter, channels: Floats) -> None:
        """Take paths that were kept after the channels were moved in time."""
        self._kept.remove(kept)
        self._kept.append(kept)
        self._filter, self._new = kept.copy(), False
        self._filter.loosen()
        self._go_on(channels)

    def _go_on(self, channels: Floats) -> None:
        self._filter.played_before(self._with_bend(channels))
        self._rival, self._best_db, self._low, self._age = None, 0.0, 0, 0

    def _with_bend(self, channels: Floats) -> Floats:
        if not self._bends:
            return channels
        shared = channels.mean(axis=0, keepdims=True)
        return np.concatenate([channels, (shared / 8192) ** 3 * 8192])

    def _smoothed(self, before: float, sound: Floats) -> float:
        kept = self._rules.smooth
        return kept * before + (1 - kept) * float(np.mean(sound**2))

    def _judge(self) -> None:
        """Begin, win, or end the trial of a second filter."""
        rules, gain_db = self._rules, 10 * np.log10((self._heard + 1) / (self._left + 1))
        self._best_db = max(self._best_db - rules.forgets_db, gain_db, 0.0)
        fallen = gain_db < max(min(self._best_db - rules.fall_db, rules.low_db), -1.0)
        self._low = self._low + 1 if fallen else 0
        self._age += 1
        if self._rival is None:
            if self._low >= rules.fall and self._age >= rules.rest:
                self._rival = self._filter.copy()
                self._rival.forget()
                self._rivals_left, self._age = self._left, 0
        elif self._age >= rules.least and (
            self._rivals_left < self._left * 10 ** (-rules.better_db / 10)
        ):
            self._filter, self._rival, self._new = self._rival, None, True
            self._left, self._best_db, self._low, self._age = self._rivals_left, 0.0, 0, 0
        elif self._age >= rules.most:
            self._rival, self._low, self._age = None, 0, 0
