"""Keeps what was played lately, and reads it at any place and pace.

Between samples it is read by a windowed sinc: J. O. Smith and P. Gossett, "A flexible
sampling-rate conversion method", ICASSP 1984. A streaming resampler would not do: what was read at
one pace has to be found again at another.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from voice.sound.path_filter import Floats

HALF = 16
"""Samples on either side that a place between two samples is read from."""
_PHASES = 512
_AT_ONCE = 4096


def _table() -> Floats:
    """Weights for each of the phases between two samples, by a Kaiser window of 80 dB (beta 8)."""
    offsets = np.arange(1 - HALF, HALF + 1)[np.newaxis, :]
    away = offsets - np.arange(_PHASES + 1)[:, np.newaxis] / _PHASES
    window = np.i0(8.0 * np.sqrt(np.clip(1 - (away / HALF) ** 2, 0, 1))) / np.i0(8.0)
    weights = np.sinc(away) * window
    summed: Floats = weights / weights.sum(axis=1, keepdims=True)
    return summed


_WEIGHTS = _table()


class PlayedTape:
    """Channels that were played, from some place on; places count from the first sample."""

    def __init__(self, channels: int, kept: int) -> None:
        """Empty; `kept` samples before the oldest place that was read are kept."""
        self._frames = np.zeros((channels, kept), np.float32)
        self._kept, self.channels = kept, channels
        self._first = -kept
        self._lent = 0

    @property
    def end(self) -> int:
        """Place after the last sample."""
        return self._first + self._frames.shape[1]

    def add(self, frames: NDArray[np.generic]) -> bool:
        """Append samples of shape (channels, samples), on the scale of samples; return whether they
        take the place of silence that was lent.
        """
        if not frames.shape[1]:
            return False
        late, known = self._lent > 0, self._frames[:, : self._frames.shape[1] - self._lent]
        self._frames, self._lent = np.concatenate([known, frames.astype(np.float32)], axis=1), 0
        return late

    def lend(self, count: int) -> None:
        """Append silence that stands for samples to come."""
        silence = np.zeros((self.channels, count), np.float32)
        self._frames = np.concatenate([self._frames, silence], axis=1)
        self._lent += count

    def drop_before(self, place: int) -> None:
        """Forget all that lies further before a place than is kept."""
        unused = place - self._kept - self._first
        if unused > self._kept:  # seldom, since all the rest is copied
            self._frames = self._frames[:, unused:].copy()
            self._first += unused
            self._lent = min(self._lent, self._frames.shape[1])

    def read(self, place: float, count: int, pace: float = 1.0) -> Floats:
        """So many samples from a place on, `pace` samples apart; zeros where nothing is known."""
        if pace == 1.0 and place == int(place):
            return self._span(int(place), int(place) + count).astype(np.float64)
        if count > _AT_ONCE:  # the weights of all places would take much memory
            begins = range(0, count, _AT_ONCE)
            sizes = [min(_AT_ONCE, count - begin) for begin in begins]
            parts = zip(begins, sizes, strict=True)
            return np.concatenate(
                [self.read(place + begin * pace, size, pace) for begin, size in parts], axis=1
            )
        places = place + np.arange(count) * pace
        whole = np.floor(places).astype(np.int64)
        phases = np.rint((places - whole) * _PHASES).astype(np.int64)
        begin = int(whole[0]) + 1 - HALF
        span = self._span(begin, int(whole[-1]) + HALF + 1)
        windows = np.lib.stride_tricks.sliding_window_view(span, 2 * HALF, axis=1)
        taken = windows[:, whole - whole[0]]
        found: Floats = np.einsum("cnk,nk->cn", taken, _WEIGHTS[phases])
        return found

    def _span(self, begin: int, end: int) -> NDArray[np.float32]:
        known = self._frames[:, max(begin - self._first, 0) : max(end - self._first, 0)]
        before = min(max(self._first - begin, 0), end - begin)
        after = end - begin - before - known.shape[1]
        return np.pad(known, ((0, 0), (before, after))) if before or after else known
