"""A computed room in which the program speaks through a loudspeaker, and can be talked over."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from tests.known_sound import Floats
from voice.rehearsal.room import BLOCK, Room
from voice.sound.known_sound import Played
from voice.sound.ports import RATE_HZ

HELD = RATE_HZ // 10
"""Samples that the loudspeaker holds, and plays to their end when it is to fall silent."""


class LoudRoom(Room):
    """Its microphone hears the program along a path; what is played is a `KnownSound`."""

    def __init__(
        self, path: Floats, bend: Callable[[Floats], Floats] = lambda sound: sound
    ) -> None:
        """`bend` is the distortion of the loudspeaker."""
        super().__init__()
        self.path, self._bend = path, bend
        self._taken = 0
        self.film = np.zeros(0)
        """Another sound from the same loudspeaker, which repeats without end."""
        self.stops_s: list[float] = []

    def stop(self) -> None:
        """Fall silent once what the loudspeaker holds has been played."""
        if self.playing:
            self.stops_s.append(self.now())
        end = self._at + HELD
        self._playing_until = min(end, self._playing_until)
        begun = [(start, samples) for start, samples in self._played if start < end]
        self._played = [(start, samples[: end - start]) for start, samples in begun]

    def take(self) -> Played:
        """What was played up to now."""
        begin, self._taken = self._taken, self._at
        return Played(
            self._track(begin, self._at).astype(np.float32)[np.newaxis], self.now(), run=1
        )

    def _track(self, begin: int, end: int) -> Floats:
        """What is played from one sample to another."""
        track = np.zeros(end - begin)
        if len(self.film):
            track += self.film[np.arange(begin, end) % len(self.film)]
        for start, samples in reversed(self._played):
            if start + len(samples) <= begin:
                break
            part = samples[max(begin - start, 0) : max(end - start, 0)]
            at = max(start - begin, 0)
            track[at : at + len(part)] += part
        return track

    def _echo_now(self) -> Floats:
        reach = len(self.path)
        played = self._bend(self._track(self._at - reach, self._at + BLOCK))
        size = 1 << (2 * reach + BLOCK).bit_length()
        heard = np.fft.irfft(np.fft.rfft(played, size) * np.fft.rfft(self.path, size), size)
        return np.asarray(heard[reach : reach + BLOCK])
