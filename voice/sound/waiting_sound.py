"""The queue of sound that waits to be played."""

import math
import threading
from collections import deque
from time import monotonic

import numpy as np
from numpy.typing import NDArray

from voice.sound.own_voice import OwnVoice
from voice.sound.ports import RATE_HZ, Samples


class Waiting:
    """Samples waiting to be played, at the device's rate; safe between threads."""

    def __init__(self) -> None:
        """Start empty and shut; `heard_from_s` is the time from which the sound added last is
        heard, with all that it goes on from, infinity while all of it waits.
        """
        self.own = OwnVoice()
        self._lock = threading.Lock()
        self._pieces: deque[Samples] = deque()
        self._open = self._held = False
        self._heard_until_s = self.heard_from_s = 0.0
        self._rate_hz = RATE_HZ

    def add(self, samples: Samples, *, goes_on: bool = False) -> None:
        """Append samples, which may go on from those before; while shut, they are dropped."""
        with self._lock:
            if self._open and len(samples):
                silent = not self._pieces and monotonic() >= self._heard_until_s
                if silent and not goes_on:
                    self.heard_from_s = math.inf
                self._pieces.append(samples)

    def open(self, rate_hz: int) -> None:
        """Accept samples, since streams are running to play them at this rate."""
        self.own.begin(rate_hz)
        with self._lock:
            self._open, self._rate_hz = True, rate_hz

    def drop(self) -> None:
        """Drop everything that waits; what the device holds plays out."""
        with self._lock:
            self._pieces.clear()

    def shut(self) -> None:
        """Drop everything, and accept nothing until `open`, since no stream would play it."""
        self.hold()
        with self._lock:
            self._open = self._held = False

    def hold(self) -> None:
        """Drop everything, and supply silence until `release`."""
        with self._lock:
            self._pieces.clear()
            self._held = True
            self._heard_until_s = 0.0

    def release(self) -> None:
        """Supply waiting samples again."""
        with self._lock:
            self._held = False

    def busy(self, now_s: float) -> bool:
        """Whether samples are waiting, or still being heard."""
        with self._lock:
            return bool(self._pieces) or now_s < self._heard_until_s

    def fill(self, out: NDArray[np.int16], heard_until_s: float) -> None:
        """Fill `out` in all channels, with silence once no samples are left."""
        done = 0
        with self._lock:
            while self._pieces and not self._held and done < len(out):
                piece = self._pieces.popleft()
                taken = piece[: len(out) - done]
                out[done : done + len(taken)] = taken[:, np.newaxis]
                done += len(taken)
                if len(taken) < len(piece):
                    self._pieces.appendleft(piece[len(taken) :])
            if done:
                begins_s = heard_until_s - len(out) / self._rate_hz
                self.heard_from_s = min(self.heard_from_s, begins_s)
                self._heard_until_s = heard_until_s
        out[done:] = 0
        self.own.hand_over(out[:, 0], heard_until_s)
