"""The sound card, as the ports `AudioSource` and `Player`."""

import queue
from collections import deque
from time import monotonic
from typing import Any, Self

import numpy as np
import soxr  # type: ignore[import-untyped]

from voice.sound.duplex import Duplex
from voice.sound.own_voice import OwnVoice
from voice.sound.ports import RATE_HZ, AudioBlock, Condition, DeviceLost, Samples
from voice.sound.sound_settings import SoundSettings
from voice.sound.sound_watch import SourceWatch
from voice.sound.streams import Captured


class Sound:
    """A real sound card, reopened after losses; blocks and conditions come in order of arrival.

    One thread may read while another one plays and stops.
    """

    def __init__(self, settings: SoundSettings | None = None) -> None:
        """Open both devices.

        Raises SoundUnavailableError, whose text says what to do.
        """
        self._settings = settings or SoundSettings()
        self._items: queue.Queue[Captured | Condition] = queue.Queue()
        self._pending: deque[AudioBlock | Condition] = deque()
        self._missed = False
        self._source = SourceWatch()
        self._resampler = _Resampler()
        self._duplex = Duplex(self._settings, self._put)
        self._plays_out = False
        self._duplex.open()

    def own_voice(self) -> OwnVoice:
        """Return what it hands to the loudspeaker, as a known sound.

        From now on, what the device holds when it is to fall silent plays out: a stream that is
        ended and begun again would be out of step with the microphone.
        """
        self._plays_out = True
        return self._duplex.waiting.own

    @property
    def playing(self) -> bool:
        """Whether sound is waiting to be played, or still being heard."""
        return self._duplex.waiting.busy(monotonic())

    @property
    def heard_from_s(self) -> float:
        """Time from which the sound played last is heard; infinity while all of it still waits."""
        return self._duplex.waiting.heard_from_s

    def read(self, timeout_s: float) -> AudioBlock | Condition | None:
        """Return the next block at `RATE_HZ` or condition; None if nothing came in time.

        After a loss, sound waiting to be played is dropped, and sound resumes when the device is
        back.
        """
        if not self._pending:
            try:
                item = self._items.get(timeout=timeout_s)
            except queue.Empty:
                return None
            self._pending.extend(self._taken(item))
        return self._pending.popleft() if self._pending else None

    def drain(self) -> None:
        """Drop the unread blocks, but keep the conditions."""
        waiting = [self._items.get_nowait() for _ in range(self._items.qsize())]
        kept = [item for item in waiting if not isinstance(item, Captured)]
        self._pending = deque(p for p in self._pending if not isinstance(p, AudioBlock))
        self._pending.extend(kept)

    def play(self, samples: Samples, *, goes_on: bool = False) -> None:
        """Play mono samples at `RATE_HZ` after those waiting; `goes_on` as the port has it."""
        self._source.played(samples)
        device_hz = self._duplex.loudspeaker_hz
        if device_hz != RATE_HZ:
            samples = soxr.resample(samples, RATE_HZ, device_hz).astype(np.int16)
        self._duplex.waiting.add(samples, goes_on=goes_on)

    def stop(self) -> None:
        """Fall silent, and drop the sound buffered by the device, unless that is to play out."""
        if self._plays_out:
            self._duplex.waiting.drop()
        else:
            self._duplex.silence()

    def close(self) -> None:
        """Release the devices."""
        self._duplex.close()

    def __enter__(self) -> Self:
        """Close at the end of the block."""
        return self

    def __exit__(self, *_: object) -> None:
        """Close."""
        self.close()

    def _put(self, item: Captured | Condition) -> None:
        """Queue an item. Runs in PortAudio's callback, so it only counts and appends."""
        if not isinstance(item, Captured):
            self._items.put(item)
        elif self._items.qsize() >= self._settings.kept_blocks:
            self._missed = True
        else:
            self._items.put(item._replace(overflowed=item.overflowed or self._missed))
            self._missed = False

    def _taken(self, item: Captured | Condition) -> list[AudioBlock | Condition]:
        """Return a block, preceded by a condition if it is the program's own output."""
        if not isinstance(item, Captured):
            if isinstance(item, DeviceLost):
                self._source = SourceWatch()
            return [item]
        samples = self._resampler.at_inner_rate(item)
        if not len(samples):
            return []
        block = AudioBlock(samples, RATE_HZ, item.overflowed, item.time_s)
        return [*self._source.feed(block), block]


class _Resampler:
    """Resamples a stream of blocks to `RATE_HZ` mono, without gaps between blocks."""

    def __init__(self) -> None:
        self._from_hz = RATE_HZ
        self._stream: Any = None

    def at_inner_rate(self, item: Captured) -> Samples:
        """The resampled block; it may be empty at first, while the filter fills."""
        mono = item.frames[:, 0]
        if item.frames.shape[1] > 1:
            mono = item.frames.mean(axis=1).astype(np.int16)
        if item.rate_hz == RATE_HZ:
            return mono
        if self._stream is None or self._from_hz != item.rate_hz:
            self._from_hz = item.rate_hz
            self._stream = soxr.ResampleStream(item.rate_hz, RATE_HZ, 1, dtype="int16")
        resampled: Samples = self._stream.resample_chunk(np.ascontiguousarray(mono))
        return resampled
