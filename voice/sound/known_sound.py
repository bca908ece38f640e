"""A source of sound with the known sound of a loudspeaker taken out of it."""

from __future__ import annotations

from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from voice.sound.canceller import Canceller, CancellerSettings
from voice.sound.ports import RATE_HZ, AudioBlock, AudioSource, Condition, DeviceBack


class KnownSound(Protocol):
    """A sound that also reaches the microphone."""

    @property
    def channels(self) -> int:
        """Number of channels, which stays the same."""

    def take(self) -> NDArray[np.float32]:
        """Return all that came since the last call, of shape (channels, samples).

        It is at `RATE_HZ` and on the scale of samples.
        """


class WithoutKnown:
    """An `AudioSource` that gives another one's sound without the known sound."""

    def __init__(
        self, source: AudioSource, known: KnownSound, settings: CancellerSettings | None = None
    ) -> None:
        """Borrow both; learning begins with the first block."""
        self._source, self._known, self._settings = source, known, settings
        self._canceller: Canceller | None = None
        self._overflowed = False

    @property
    def gain_db(self) -> float:
        """Attenuation of the last seconds in which something played; see `Canceller`."""
        return 0.0 if self._canceller is None else self._canceller.gain_db

    def read(self, timeout_s: float) -> AudioBlock | Condition | None:
        """Return the next block or condition; None if no whole block came in time."""
        item = self._source.read(timeout_s)
        if not isinstance(item, AudioBlock):
            if isinstance(item, DeviceBack):  # the two do not belong together any more
                self._canceller = None
            return item
        played = self._known.take()
        if self._canceller is None:
            # What came before the first block was played before it.
            played = played[:, max(played.shape[1] - len(item.samples), 0) :]
            self._canceller = Canceller(self._known.channels, self._settings)
        left = self._canceller.feed(item.samples, played)
        self._overflowed |= item.overflowed
        if not len(left):
            return None
        overflowed, self._overflowed = self._overflowed, False
        time_s = item.time_s - self._canceller.waiting / RATE_HZ
        return AudioBlock(left, RATE_HZ, overflowed, time_s)
