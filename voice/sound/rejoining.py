"""Finds learnt paths again after a jump of the delay: sound was lost, or a device came back.

What is heard is compared with what would be heard along those paths, so that a sound that comes by
several ways shows one delay.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from voice.sound.movement import SEGMENT, delay_of
from voice.sound.path_filter import Floats

BETTER = 0.2
"""Share of the power of what would be heard along the paths, by which less is to be left than by
the filter at work. A voice ten times as strong moves it by a tenth, by chance."""

LOUDEST = 10.0
"""Power of the microphone over that of the echo, above which a fit may be chance."""

QUARTER = 0.25
"""Share of what the filter at work leaves, below which it is less whatever else is heard."""


class Rejoined(NamedTuple):
    """How the learnt paths fit what was heard."""

    late: float
    """Samples by which the known sound is later than it was; below 0 where it is earlier."""
    heard: float
    """Mean power of the microphone, on the scale of samples."""
    left: float
    """Mean power that the paths leave of it at that delay."""
    echo: float
    """Mean power of what would be heard along them."""

    def better_than(self, left: float) -> bool:
        """Whether they leave less than another filter did, of which this is the mean power."""
        if self.heard > LOUDEST * self.echo:
            return False
        left = min(left, self.heard)
        return left - self.left > BETTER * self.echo or self.left < QUARTER * left


def rejoined(microphone: Floats, played: Floats, responses: Floats) -> Rejoined | None:
    """How paths fit the last `SEGMENT` samples of a microphone; None where that may be chance.

    `responses` are those of the paths, of shape (channels, length); `played` ends with the same
    sample as the microphone's sound, and begins at least 2 `SEGMENT` and that length before.
    """
    echo = _along(played, responses)[-2 * SEGMENT :]
    late = delay_of(microphone, echo)
    if late is None:
        return None
    expected = _shifted(echo, late)[SEGMENT:]
    there = slice(0, SEGMENT + min(int(np.floor(late)), 0))
    sounds = microphone, microphone - expected, expected
    return Rejoined(late, *(float(np.mean(sound[there] ** 2)) for sound in sounds))


def _along(played: Floats, responses: Floats) -> Floats:
    """The sum of all channels along their paths."""
    size = 1 << (played.shape[1] + responses.shape[1]).bit_length()
    spectra = np.fft.rfft(played, size, axis=1) * np.fft.rfft(responses, size, axis=1)
    summed: Floats = np.fft.irfft(spectra.sum(axis=0), size)[: played.shape[1]]
    return summed


def _shifted(sound: Floats, late: float) -> Floats:
    """The sound so many samples later, between samples too."""
    size = 2 * len(sound)
    turn = np.exp(-2j * np.pi * late * np.arange(size // 2 + 1) / size)
    later: Floats = np.fft.irfft(np.fft.rfft(sound, size) * turn, size)[: len(sound)]
    return later
