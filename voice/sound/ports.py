"""Interfaces of the sound modules: blocks of sound, conditions to report, and ports."""

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Protocol, TypeAlias

if TYPE_CHECKING:  # a typed call needs no sound, and starts sooner without
    import numpy as np
    from numpy.typing import NDArray

Samples: TypeAlias = "NDArray[np.int16]"
"""Mono sound, one dimension, 16 bit."""

RATE_HZ = 16_000
"""The only sampling rate used internally; the recognisers are trained on it."""

FULL_SCALE = 32_768
"""The sample value of 0 dBFS."""


@dataclass(frozen=True, slots=True, eq=False)
class AudioBlock:
    """A block of sound from the microphone."""

    samples: Samples
    """Mono, never empty."""
    rate_hz: int = RATE_HZ
    overflowed: bool = False
    """True if sound was lost just before this block."""
    time_s: float = 0.0
    """Time of arrival, by the clock of its source."""
    left_db: float = -math.inf
    """Level in dBFS up to which it may be what is left of a known sound."""

    @property
    def duration_s(self) -> float:
        """Length of the block in seconds."""
        return len(self.samples) / self.rate_hz


class Condition(Protocol):
    """A condition of the sound that the maker may have to be told."""

    @property
    def sentence(self) -> str:
        """One sentence that says what happened and what to do."""


@dataclass(frozen=True, slots=True)
class DeviceLost:
    """The microphone or the loudspeaker stopped working."""

    reason: str
    sentence: str = field(
        default="The sound device went away; plug it in again, I keep trying.", init=False
    )


@dataclass(frozen=True, slots=True)
class OnlyMicrophoneLost:
    """After a loss the loudspeaker works again, but the microphone is still missing."""

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
    """Sound was lost because it was not read quickly enough."""

    time_s: float
    """Time of the loss, by the clock of the blocks."""
    sentence: str = field(default="I missed a moment of sound; say that again.", init=False)


@dataclass(frozen=True, slots=True)
class AllZeros:
    """The microphone delivers only exact zeros, as it does without permission."""

    silent_s: float
    sentence: str = field(
        default="The microphone gives no sound at all; allow this program to use it in the"
        " system settings, or switch its mute off.",
        init=False,
    )


@dataclass(frozen=True, slots=True)
class TooQuiet:
    """The voice is too quiet to be understood."""

    level_db: float
    sentence: str = field(
        default="What I hear is very faint; bring the microphone nearer or turn its level up.",
        init=False,
    )


@dataclass(frozen=True, slots=True)
class Clipping:
    """The voice is so loud that the microphone's signal clips."""

    share: float
    """Share of the samples at full scale, 0..1."""
    sentence: str = field(
        default="You come through too loud; turn the microphone's level down a little.", init=False
    )


@dataclass(frozen=True, slots=True)
class HearsLoudspeaker:
    """The microphone input carries the program's own output, sample for sample."""

    likeness: float
    """Correlation with the sound played, 0..1."""
    sentence: str = field(
        default="I hear my own output instead of the microphone; choose the microphone again in"
        " the system's sound settings.",
        init=False,
    )


class AudioSource(Protocol):
    """A source of sound blocks and conditions, in order of arrival."""

    def read(self, timeout_s: float) -> AudioBlock | Condition | None:
        """Return the next block or condition; None if nothing came in time."""


class Player(Protocol):
    """A player of samples."""

    @property
    def playing(self) -> bool:
        """Whether sound is still being played."""

    @property
    def heard_from_s(self) -> float:
        """Time by the clock of the blocks from which the sound played last is heard, with all that
        it goes on from; infinity while all of it still waits.
        """

    def play(self, samples: Samples, *, goes_on: bool = False) -> None:
        """Play mono samples at `RATE_HZ` after those already waiting; return at once.

        goes_on: with what was played before, even where that is over already.
        """

    def stop(self) -> None:
        """Fall silent and drop the waiting sound; return at once."""


class Speaker(Protocol):
    """A speaker of sentences."""

    @property
    def speaking(self) -> bool:
        """Whether a sentence is still being spoken."""

    def prepare(self, text: str) -> None:
        """Prepare `text`, so that saying it starts sooner."""

    def say(self, text: str) -> None:
        """Start to say `text`, which is in plain English words; return before it is finished."""

    def stop(self) -> None:
        """Fall silent within a tenth of a second."""
