"""The samples that this program hands to the loudspeaker, as a known sound."""

from __future__ import annotations

import threading
from typing import Any

import numpy as np
import soxr  # type: ignore[import-untyped]

from voice.sound.known_sound import Played
from voice.sound.ports import RATE_HZ, Samples

KEPT_S = 15.0
"""Sound kept while nobody takes it; older sound is dropped."""


class OwnVoice:
    """A `KnownSound`: all that the loudspeaker was given, with the silence between; safe between
    threads.
    """

    def __init__(self) -> None:
        """Nothing was handed over yet."""
        self._lock = threading.Lock()
        self._blocks: list[Samples] = []
        self._kept_s = self._until_s = 0.0
        self._run, self._taken_run = 0, 0
        self._rate_hz = RATE_HZ
        self._resampler: Any = None

    def begin(self, rate_hz: int) -> None:
        """A loudspeaker was opened, at this rate; what was before belongs to another."""
        with self._lock:
            self._blocks, self._kept_s = [], 0.0
            self._run, self._rate_hz = self._run + 1, rate_hz

    def hand_over(self, samples: Samples, heard_until_s: float) -> None:
        """The loudspeaker is given these samples, and will have played them by that time."""
        with self._lock:
            self._blocks.append(samples.copy())
            self._kept_s += len(samples) / self._rate_hz
            while self._kept_s > KEPT_S:
                self._kept_s -= len(self._blocks.pop(0)) / self._rate_hz
                self._run += 1
            self._until_s = heard_until_s

    def take(self) -> Played | None:
        """Return all that was handed over since the last call; None before there was anything."""
        with self._lock:
            blocks, self._blocks, self._kept_s = self._blocks, [], 0.0
            until_s, run, rate_hz = self._until_s, self._run, self._rate_hz
        if until_s == 0.0:
            return None
        samples = np.concatenate([np.zeros(0, np.int16), *blocks])
        frames = self._at_inner_rate(samples, rate_hz, run)
        return Played(frames.astype(np.float32)[np.newaxis], until_s, run)

    def _at_inner_rate(self, samples: Samples, rate_hz: int, run: int) -> Samples:
        """The samples at `RATE_HZ`, without gaps within one run."""
        if rate_hz == RATE_HZ:
            return samples
        if self._resampler is None or run != self._taken_run:
            self._resampler, self._taken_run = (
                soxr.ResampleStream(rate_hz, RATE_HZ, 1, "int16"),
                run,
            )
        found: Samples = self._resampler.resample_chunk(samples)
        return found
