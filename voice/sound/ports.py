"""What the sound parts promise each other: blocks of sound, conditions to be told, ports."""

from dataclasses import dataclass, field
from typing import Protocol, TypeAlias

import numpy as np
from numpy.typing import NDArray

Samples: TypeAlias = NDArray[np.int16]
"""Mono sound, one dimension, 16 bit."""

RATE_HZ = 16_000
"""The one rate used inside; the recognisers are trained on it."""

FULL_SCALE = 32_768
"""The sample value that stands for 0 dBFS."""


@dataclass(frozen=True, slots=True, eq=False)
class AudioBlock:
    """A piece of what the microphone heard."""

    samples: Samples
    """Mono, never empty."""
    rate_hz: int = RATE_HZ
    overflowed: bool = False
    """True when sound was lost just before this block."""
    time_s: float = 0.0
    """When the block arrived, by the clock of its source."""

    @property
    def duration_s(self) -> float:
        """Length of the block."""
        return len(self.samples) / self.rate_hz


class Condition(Protocol):
    """Something about the sound that the maker may have to be told."""

    @property
    def sentence(self) -> str:
        """One sentence: what is so, and what to do."""


@dataclass(frozen=True, slots=True)
class DeviceLost:
    """The microphone or the loudspeaker stopped working."""

    reason: str
    sentence: str = field(
        default="The sound device went away; plug it in again, I keep trying.", init=False
    )


@dataclass(frozen=True, slots=True)
class OnlyMicrophoneLost:
    """After a loss the loudspeaker works again, but the microphone is still away."""

    sentence: str = field(
        default="The microphone went away; plug it in again, I keep trying.", init=False
    )


@dataclass(frozen=True, slots=True)
class DeviceBack:
    """Both streams run again after a loss."""

    away_s: float
    sentence: str = field(default="The sound is back; say your last words again.", init=False)


@dataclass(frozen=True, slots=True)
class Overflow:
    """Sound was lost because it was not taken away quickly enough."""

    time_s: float
    """By the clock of the blocks."""
    sentence: str = field(default="I missed a moment of sound; say that again.", init=False)


@dataclass(frozen=True, slots=True)
class AllZeros:
    """The microphone delivers nothing but exact zeros, as it does without permission."""

    silent_s: float
    sentence: str = field(
        default="The microphone gives no sound at all; allow this program to use it in the"
        " system settings, or switch its mute off.",
        init=False,
    )


@dataclass(frozen=True, slots=True)
class TooQuiet:
    """What is heard is so weak that it will not be understood."""

    level_db: float
    sentence: str = field(
        default="What I hear is very faint; bring the microphone nearer or turn its level up.",
        init=False,
    )


@dataclass(frozen=True, slots=True)
class Clipping:
    """What is heard is louder than the microphone's level can carry."""

    share: float
    """Part of the samples at full scale, 0..1."""
    sentence: str = field(
        default="You come through too loud; turn the microphone's level down a little.", init=False
    )


@dataclass(frozen=True, slots=True)
class HearsLoudspeaker:
    """The microphone line carries the program's own output, sample for sample."""

    likeness: float
    """Correlation with what was played, 0..1."""
    sentence: str = field(
        default="I hear my own output instead of the microphone; choose the microphone again in"
        " the system's sound settings.",
        init=False,
    )


class AudioSource(Protocol):
    """Where sound comes from, with what is wrong with it, in order of arrival."""

    def read(self, timeout_s: float) -> AudioBlock | Condition | None:
        """Return the next block or condition; None when nothing came in time."""


class Player(Protocol):
    """What makes samples audible."""

    @property
    def playing(self) -> bool:
        """Whether something is still to be heard."""

    def play(self, samples: Samples) -> None:
        """Play mono samples at `RATE_HZ` after whatever is already waiting; return at once."""

    def stop(self) -> None:
        """Fall silent and forget what is waiting; return at once."""


class Speaker(Protocol):
    """What says sentences aloud."""

    @property
    def speaking(self) -> bool:
        """Whether a sentence is still to be heard."""

    def prepare(self, text: str) -> None:
        """Make `text` ready ahead of time, so that saying it starts sooner."""

    def say(self, text: str) -> None:
        """Start to say `text` in plain English words; return before it has been heard."""

    def stop(self) -> None:
        """Fall silent within a tenth of a second."""
