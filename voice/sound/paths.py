"""Takes the known sound away, by the better of two filters.

One filter does the work. When it does worse than it did, a second one that trusts nothing learnt
so far runs beside it, and takes its place if it does better: so a moved microphone is learnt anew,
and a voice does no harm. Two such filters: K. Ochiai, T. Araseki and T. Ogihara, "Echo canceler
with two echo path models", IEEE Transactions on Communications 25(6), 1977.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from voice.sound.path_filter import Floats, PathFilter, PathSettings
from voice.sound.ports import FULL_SCALE


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


class Paths:
    """Paths of all channels, learnt from every block; sound is on the scale of samples."""

    def __init__(self, channels: int, settings: PathSettings | None = None) -> None:
        """Know nothing of the paths yet."""
        self._filter = PathFilter(channels, settings)
        self._rival: PathFilter | None = None
        self._kept: PathFilter | None = None
        self._rules = RivalSettings()
        self._heard = self._left = self._rivals_left = 0.0
        self._best_db = 0.0
        self._low = self._age = 0

    def block(self, microphone: Floats, channels: Floats) -> Floats:
        """Remainder of the microphone's block; the block itself while nothing plays."""
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
        """Keep a copy of what is known now."""
        self._kept = self._filter.copy()

    def played_before(self, channels: Floats) -> None:
        """Replace the last blocks played, some of which were missing; see `PathFilter`."""
        for each in (self._filter, self._rival):
            if each is not None:
                each.played_before(channels)

    def replaced(self, channels: Floats, *, known: bool = False) -> None:
        """Go on after the channels were moved in time; takes the same as `played_before`.

        Where the paths are `known` at the new time, they are those kept last; else it begins anew.
        """
        if known and self._kept is not None:
            self._filter = self._kept
        else:
            self._filter.forget()
        self._filter.played_before(channels)
        self._kept = None
        self._rival, self._best_db, self._low, self._age = None, 0.0, 0, 0

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
            self._filter, self._rival = self._rival, None
            self._left, self._best_db, self._low, self._age = self._rivals_left, 0.0, 0, 0
        elif self._age >= rules.most:
            self._rival, self._low, self._age = None, 0, 0
