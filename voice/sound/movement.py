"""Finds the delay of a known sound at the microphone, and its movement.

Correlation with the spectrum made flat: C. Knapp and G. Carter, "The generalized correlation method
for estimation of time delay", IEEE Transactions on Acoustics, Speech, and Signal Processing 24(4),
1976. Where two clocks drift apart, the delay moves from second to second; the room, which stays the
same, cancels out.
"""

from __future__ import annotations

from collections import deque
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from voice.sound.path_filter import Floats

SEGMENT = 16_384
"""Samples in one look, about a second."""
APART = 4
"""Distance of the two looks between which drift is measured."""
_EARLIEST, _LATEST = -9_000, 12_000
_WIDEST = 64
"""Samples that a delay may move between two such looks: 200 millionths are 13."""
SURE, SURE_MOVED = 10.0, 5.0
"""Least height of a peak over the root mean square of its surroundings. In trials with talk and
music, chance gave at most 6 and 4."""

LEAST_MILLIONTHS = 5.0
"""Drift below which the clocks are taken for one."""
FURTHEST_MILLIONTHS = 300.0
"""Clocks of sound cards drift less than this; from memory, they keep to 100 millionths."""


class Look(NamedTuple):
    """Look at one second of sound; None stands for a value that it does not show."""

    delay: float | None
    """Delay at the microphone, in samples."""
    moved: float | None
    """Growth of the delay over the last `APART` looks, in samples."""
    heard: Floats
    """The `SEGMENT` samples of the microphone that were looked at."""
    left: float
    """Mean power that was left of them, on the scale of samples."""

    @property
    def gain_db(self) -> float:
        """Attenuation in this look; below 0 where more was left than there was."""
        return 10 * float(np.log10((np.mean(self.heard**2) + 1) / (self.left + 1)))


class Movement:
    """Follows the delay from blocks of the microphone and of the sound played."""

    def __init__(self) -> None:
        """Nothing was seen yet."""
        self._blocks: list[tuple[Floats, Floats, Floats]] = []
        self._before = np.zeros(SEGMENT)
        self._spectra: deque[NDArray[np.complex64] | None] = deque(maxlen=APART + 1)

    @property
    def begun(self) -> bool:
        """Whether there are blocks that wait for the rest of a look."""
        return bool(self._blocks)

    def block(self, microphone: Floats, played: Floats, left: Floats) -> Look | None:
        """Take the next block and what was left of it; return a look when there is enough for one.

        Blocks follow one another, except between two looks.
        """
        self._blocks.append((microphone, played, left))
        if len(self._blocks) * len(microphone) < SEGMENT:
            return None
        heard, known, rest = (np.concatenate(side) for side in zip(*self._blocks, strict=True))
        before, self._before = self._before, known
        self._blocks.clear()
        flat = _flat(heard, np.concatenate([before, known]))
        self._spectra.append(flat)
        power = float(np.mean(rest**2))
        if flat is None:
            return Look(None, None, heard, power)
        return Look(_delay(flat), self._moved(flat), heard, power)

    def _moved(self, now: NDArray[np.complex64]) -> float | None:
        then = self._spectra[0]
        if then is None or len(self._spectra) <= APART:
            return None
        return _peak(np.fft.irfft(now * np.conj(then)), -_WIDEST, _WIDEST, SURE_MOVED)


class Pace:
    """How much faster the clock of the known sound runs, by the delays that move."""

    def __init__(self) -> None:
        """Take the clocks for one."""
        self._rates = [0.0] * APART
        self._drifts, self._moved = False, 0.0
        self.settled = False
        """Whether the delay was seen not to move any more."""

    @property
    def rate(self) -> float:
        """Drift of the known sound's clock; positive where it outruns the microphone's."""
        return self._rates[-1]

    def begin_again(self) -> None:
        """Keep the rate; the delays seen so far do not count any more."""
        self._rates = [self._rates[-1]] * APART

    def follow(self, moved: float | None) -> bool:
        """Change the rate once two looks agree that the delay moves.

        Returns True where what was learnt until now is smeared.
        """
        rate = self._rates[-1]
        smeared = False
        if moved is not None:
            # What is heard later and later has to be read more slowly.
            off = moved / (APART * SEGMENT)
            seen = float(np.mean(self._rates)) - off
            least = LEAST_MILLIONTHS / 1e6
            self._drifts |= min(abs(seen), abs(self._moved)) >= least and seen * self._moved > 0
            self._moved, self.settled = seen, abs(off) < least
            smeared = self._drifts and not rate
            if self._drifts:
                rate = 0.5 * (rate + seen) if rate else seen
        most = FURTHEST_MILLIONTHS / 1e6
        self._rates = [*self._rates[1:], min(max(rate, -most), most)]
        return smeared


def delay_of(heard: Floats, known: Floats) -> float | None:
    """Delay in samples of `SEGMENT` samples heard, after a known sound that ends with the same
    sample and is twice as long; None where it may be chance.
    """
    flat = _flat(heard, known)
    return None if flat is None else _delay(flat)


def _delay(flat: NDArray[np.complex64]) -> float | None:
    return _peak(np.fft.irfft(flat), _EARLIEST, _LATEST, SURE)


def _flat(heard: Floats, known: Floats) -> NDArray[np.complex64] | None:
    """Spectrum of the correlation, made flat; None where nothing was played or heard."""
    if not np.any(heard) or not np.any(known[SEGMENT:]):
        return None
    mine = np.fft.rfft(np.concatenate([np.zeros(SEGMENT), heard]))
    theirs = np.fft.rfft(known)
    power = np.abs(theirs) ** 2
    both = mine * np.conj(theirs)
    flat = both / np.maximum(np.abs(both), 1e-9) * (power > 1e-6 * power.max())
    found: NDArray[np.complex64] = flat.astype(np.complex64)
    return found


def _peak(correlation: Floats, low: int, high: int, sure: float) -> float | None:
    """Place of the highest peak, between samples by a parabola; None if it may be chance."""
    size = np.abs(np.concatenate([correlation[low:], correlation[:high]]))
    at = int(size.argmax())
    if size[at] < sure * np.sqrt(np.mean(size**2)) or not 0 < at < len(size) - 1:
        return None
    left, top, right = size[at - 1 : at + 2]
    return float(at + low + 0.5 * (left - right) / (left - 2 * top + right))


def likeness(sound: Floats, known: Floats) -> float:
    """Height of the peak at which a sound follows a known one, over the root mean square; by
    chance it is 4 to 6.

    `known` begins earlier than the sound, by the longest delay.
    """
    reach = len(known) - len(sound)
    if not np.any(sound) or not np.any(known):
        return 0.0
    size = 1 << (len(known) + len(sound)).bit_length()
    both = np.fft.rfft(sound, size) * np.conj(np.fft.rfft(known, size))
    found = np.fft.irfft(both / np.maximum(np.abs(both), 1e-9))
    heights = np.abs(np.concatenate([found[-reach:], found[:1]]))
    return float(heights.max() / np.sqrt(np.mean(heights**2)))
