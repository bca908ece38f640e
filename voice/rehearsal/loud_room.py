"""A simulated room in which the program speaks through a loudspeaker, and can be talked over."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from voice.rehearsal.film import Film, across, level, path
from voice.rehearsal.room import BLOCK, Room
from voice.sound.known_sound import Played
from voice.sound.ports import RATE_HZ, Samples

HELD = RATE_HZ // 10
"""Samples that the loudspeaker holds, and plays to their end when it is to fall silent."""


class LoudRoom(Room):
    """Its microphone hears the program along a path; what is played is a `KnownSound`."""

    def __init__(
        self,
        way: NDArray[np.float64],
        *,
        volume: float = 1.0,
        noise: Samples | None = None,
        film: Film | None = None,
        live: bool = False,
    ) -> None:
        """`volume` is that of the program; the film comes from the same loudspeakers."""
        super().__init__(noise, film=film, live=live)
        self.path, self._volume = way, volume
        self._taken = 0

    def stop(self) -> None:
        """Fall silent once what the loudspeaker holds has been played."""
        end = self._at + HELD
        self._playing_until = min(end, self._playing_until)
        begun = [(start, samples) for start, samples in self._played if start < end]
        self._played = [(start, samples[: end - start]) for start, samples in begun]

    def take(self) -> Played:
        """All that was played since the last call."""
        begin, self._taken = self._taken, self._at
        frames = self._track(begin, self._at)[np.newaxis]
        if self._film is not None:
            frames = frames + self._film.take().frames
        return Played(frames.astype(np.float32), self.now(), run=1)

    def _track(self, begin: int, end: int) -> NDArray[np.float64]:
        """The program's sound from one sample to another, as it is played."""
        return self._volume * self._spoken(begin, end)

    def _echo_now(self) -> NDArray[np.float64]:
        reach = len(self.path)
        played = self._bent(self._track(self._at - reach, self._at + BLOCK))
        size = 1 << (2 * reach + BLOCK).bit_length()
        heard = np.fft.irfft(np.fft.rfft(played, size) * np.fft.rfft(self.path, size), size)
        return np.asarray(heard[reach : reach + BLOCK])

    def _bent(self, sound: NDArray[np.float64]) -> NDArray[np.float64]:
        """The sound as the loudspeaker distorts it; this one does not."""
        return sound


def as_loud_as(
    maker: Samples, ours: Samples, *, noise: Samples | None, film: Film | None, live: bool
) -> LoudRoom:
    """A room where a sample of the program's speech is as loud at the microphone as the maker's."""
    way = path(0) if film is None else film.path
    volume = level(maker) / max(level(across(ours, way)), 1e-9)
    return LoudRoom(way, volume=volume, noise=noise, film=film, live=live)
