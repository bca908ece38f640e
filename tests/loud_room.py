"""A computed room whose loudspeaker may distort, and may play something else besides."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from tests.known_sound import Floats
from voice.rehearsal import loud_room


class LoudRoom(loud_room.LoudRoom):
    """It also notes when the program falls silent before its end."""

    def __init__(
        self, path: Floats, bend: Callable[[Floats], Floats] = lambda sound: sound
    ) -> None:
        """`bend` is the distortion of the loudspeaker."""
        super().__init__(path)
        self._bend = bend
        self.film = np.zeros(0)
        """Another sound from the same loudspeaker, which repeats without end."""
        self.stops_s: list[float] = []

    def stop(self) -> None:
        if self.playing:
            self.stops_s.append(self.now())
        super().stop()

    def _track(self, begin: int, end: int) -> Floats:
        track = super()._track(begin, end)
        if len(self.film):
            track = track + self.film[np.arange(begin, end) % len(self.film)]
        return track

    def _bent(self, sound: Floats) -> Floats:
        return self._bend(sound)
