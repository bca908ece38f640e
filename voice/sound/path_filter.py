"""Learns the paths from loudspeakers to the microphone, and tells what comes along them.

A partitioned Kalman filter in the frequency domain: G. Enzner and P. Vary, "Frequency-domain
adaptive Kalman filter for acoustic echo control in hands-free telephones", Signal Processing 86(6),
2006; cut into partitions as by F. Kuech, E. Mabande and G. Enzner, ICASSP 2014.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class PathSettings:
    """Settings of the filter, from trials in computed rooms with the bench's talk and music."""

    hop: int = 512
    """Samples of a block, 32 ms; as long as one partition."""
    partitions: int = 16
    """Half a second of room, all in all."""
    keep: float = 0.9995
    """Share of the path that stays the same from block to block."""
    early: float = 0.8
    """Power of each partition over the one before, expected before anything is learnt."""
    loose: float = 0.05
    """Share of the path's power that may be wrong after a jump of the delay, which was found to a
    part of a sample."""
    smooth: float = 0.8
    """Weight of earlier blocks in the power of all that comes from no loudspeaker."""


class PathFilter:
    """The paths of some channels, learnt block by block; sound is on the scale of samples."""

    def __init__(self, channels: int, settings: PathSettings | None = None) -> None:
        """Know nothing of the paths yet."""
        self.settings = settings or PathSettings()
        hop, partitions = self.settings.hop, self.settings.partitions
        shape = (channels, partitions, hop + 1)
        self._paths = np.zeros(shape, np.complex128)
        self._unsure = np.empty(shape)
        self._played = np.zeros(shape, np.complex128)
        self._last = np.zeros((channels, hop))
        self._other = np.full(hop + 1, 100.0)
        self.forget()

    def copy(self) -> PathFilter:
        """A filter that knows the same."""
        other = PathFilter(len(self._paths), self.settings)
        other._paths[:], other._unsure[:] = self._paths, self._unsure
        other._played[:], other._last[:] = self._played, self._last
        other._other[:] = self._other
        return other

    def forget(self) -> None:
        """Know nothing of the paths again, but remember the sound that was played."""
        self._paths[:] = 0
        self.doubt()

    def doubt(self) -> None:
        """Take the paths for a guess, so that they are soon learnt anew."""
        early = self.settings.early ** np.arange(self.settings.partitions)
        self._unsure[:] = early[np.newaxis, :, np.newaxis]

    def loosen(self) -> None:
        """Take the paths for right but for `loose`, so that they are made to fit soon."""
        power = self._paths.real**2 + self._paths.imag**2
        self._unsure = np.maximum(self._unsure, self.settings.loose * power)

    def play(self, channels: Floats) -> bool:
        """Take the next block that is played; return False if nothing can be heard of it now."""
        self._played = np.roll(self._played, 1, axis=1)
        both = np.concatenate([self._last, channels], axis=1)
        self._played[:, 0] = np.fft.rfft(both)
        self._last = channels.copy()
        return bool(np.any(self._played))

    def played_before(self, channels: Floats) -> None:
        """Replace the last blocks played, of which there are one more than partitions."""
        hop = self.settings.hop
        self._last = channels[:, -hop:].copy()
        for place in range(self.settings.partitions):
            end = channels.shape[1] - place * hop
            self._played[:, place] = np.fft.rfft(channels[:, end - 2 * hop : end])

    def heard(self) -> Floats:
        """Sound of the channels at the microphone in this block, as far as the paths are known."""
        spectrum = (self._played * self._paths).sum(axis=(0, 1))
        echo: Floats = np.fft.irfft(spectrum)[self.settings.hop :]
        return echo

    def responses(self) -> Floats:
        """The paths as impulse responses, of shape (channels, samples)."""
        hop = self.settings.hop
        parts: Floats = np.fft.irfft(self._paths, axis=2)[:, :, :hop]
        return parts.reshape(len(parts), -1)

    def learn(self, left: Floats) -> None:
        """Improve the paths by the remainder of the microphone's block without `heard`."""
        hop, settings = self.settings.hop, self.settings
        error = np.fft.rfft(np.concatenate([np.zeros(hop), left]))
        power = error.real**2 + error.imag**2
        self._other = settings.smooth * self._other + (1 - settings.smooth) * power
        played = self._played.real**2 + self._played.imag**2
        other = np.maximum(self._other, power)
        step = self._unsure / ((self._unsure * played).sum(axis=(0, 1)) + 2 * other + 1e-6)
        within = np.fft.irfft(self._paths + step * np.conj(self._played) * error, axis=2)
        within[:, :, hop:] = 0
        self._paths = np.fft.rfft(within, axis=2)
        kept = settings.keep**2
        moved = (1 - kept) * (self._paths.real**2 + self._paths.imag**2)
        self._unsure = kept * (1 - 0.5 * step * played) * self._unsure + moved
