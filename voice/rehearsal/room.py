"""A simulated room, in which the maker and the program speak on one clock."""

from __future__ import annotations

import time
from collections import deque

import numpy as np
from numpy.typing import NDArray

from voice.rehearsal.film import Film
from voice.sound.ports import RATE_HZ, AudioBlock, Condition, Samples

BLOCK = RATE_HZ // 50
HISS = 3.0
"""RMS level of the silence in sample values, since no microphone gives exact zeros."""
ECHO_DELAY = RATE_HZ * 2 // 5
"""Delay of the program's echo in samples, near the longest reverberation seen in trials.
"""


class Room:
    """The ports `AudioSource` and `Player`, in which time only passes as sound is read.

    With `live`, it passes no faster than real time.
    """

    def __init__(
        self,
        noise: Samples | None = None,
        *,
        film: Film | None = None,
        echo_db: float | None = None,
        live: bool = False,
        seed: int = 1,
    ) -> None:
        """`noise` is background sound at its own level, repeated without end, as is the `film`.

        The microphone hears the program `echo_db` louder than it speaks; None for no echo.
        """
        self._rng = np.random.default_rng(seed)
        self._noise = noise
        self._film = film
        self._echo = 0.0 if echo_db is None else 10 ** (echo_db / 20)
        self._live = live
        self._maker: deque[Samples] = deque()
        self._said: list[tuple[int, Samples]] = []
        self._played: list[tuple[int, Samples]] = []
        self._at = 0
        self._playing_until = 0
        self.heard_from_s = 0.0
        """Time from which the sound played last is heard."""
        self._began = time.monotonic()
        self.read_at = self._began
        """Real time at which the last block was read."""
        self.played_at = self._began
        """Real time at which sound last began to be played; what waits behind it does not count."""

    def now(self) -> float:
        """Seconds of sound since the beginning."""
        return self._at / RATE_HZ

    @property
    def shows_film(self) -> bool:
        """Whether a film plays."""
        return self._film is not None

    @property
    def playing(self) -> bool:
        """Whether the program is still speaking."""
        return self._at < self._playing_until

    @property
    def maker_speaks(self) -> bool:
        """Whether the maker is still speaking."""
        return bool(self._maker)

    def speak(self, samples: Samples) -> float:
        """Let the maker speak from now on; returns the time of the last sample."""
        self._said.append((self._at, samples))
        padded = np.concatenate([samples, np.zeros(-len(samples) % BLOCK, np.int16)])
        self._maker.extend(padded.reshape(-1, BLOCK))
        return (self._at + len(samples)) / RATE_HZ

    def read(self, timeout_s: float) -> AudioBlock | Condition | None:  # noqa: ARG002 - required by the port
        """The next block; there is always one."""
        sound = self._background() + self._echo_now()
        if self._maker:
            sound = sound + self._maker.popleft()
        if self._film is not None:
            sound = (sound + self._film.heard(self._at, BLOCK)) * self._film.sensitivity
        self._at += BLOCK
        if self._live:
            time.sleep(max(self._began + self.now() - time.monotonic(), 0.0))
        self.read_at = time.monotonic()
        return AudioBlock(np.clip(sound, -32768, 32767).astype(np.int16), time_s=self.now())

    def play(self, samples: Samples, *, goes_on: bool = False) -> None:
        """Play the program's sound after what already waits; `goes_on` as the port has it."""
        start = max(self._at, self._playing_until)
        self._played.append((start, samples))
        if not self.playing:
            self.played_at = time.monotonic()
            self.heard_from_s = self.heard_from_s if goes_on else self.now()
        self._playing_until = start + len(samples)

    def stop(self) -> None:
        """Silence the program."""
        at, self._playing_until = self._at, min(self._at, self._playing_until)
        begun = [(start, samples) for start, samples in self._played if start < at]
        self._played = [(start, samples[: at - start]) for start, samples in begun]

    def recording(self) -> Samples:
        """The whole dialogue, with both voices in one track."""
        tracks = [*self._said, *self._played]
        mixed = np.zeros(max([self._at, *(start + len(said) for start, said in tracks)]), np.int32)
        for start, samples in tracks:
            mixed[start : start + len(samples)] += samples
        return np.clip(mixed, -32768, 32767).astype(np.int16)

    def _echo_now(self) -> NDArray[np.float64]:
        """The program's sound one delay before this block."""
        begin = self._at - ECHO_DELAY
        return self._echo * self._spoken(begin, begin + BLOCK)

    def _spoken(self, begin: int, end: int) -> NDArray[np.float64]:
        """The program's sound from one sample to another."""
        track = np.zeros(end - begin)
        for start, samples in reversed(self._played):
            if start + len(samples) <= begin:
                break
            part = samples[max(begin - start, 0) : max(end - start, 0)]
            at = max(start - begin, 0)
            track[at : at + len(part)] += part
        return track

    def _background(self) -> NDArray[np.float64]:
        hiss = self._rng.normal(0.0, HISS, BLOCK)
        if self._noise is None:
            return hiss
        places = np.arange(self._at, self._at + BLOCK) % len(self._noise)
        return hiss + self._noise[places]
