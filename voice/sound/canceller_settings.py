"""Settings of the canceller."""

from __future__ import annotations

from dataclasses import dataclass, field

from voice.sound.path_filter import PathSettings


@dataclass(frozen=True, slots=True)
class CancellerSettings:
    """Settings for finding the known sound, and for waiting for it."""

    bends: bool = True
    """Whether to learn the distortion of a loudspeaker too, from the cube of the mean channel."""
    path: PathSettings = field(default_factory=PathSettings)
    early, late = 32, 1_500
    """Delays, in samples, that need no shift; later ones are learnt more slowly."""
    lead: int = 512
    """Delay in samples that is left after a shift."""
    waits_s: float = 1.0
    """Time for which the microphone's sound waits for late samples of the known sound. On a busy
    computer they are late by some tenths of a second; what is not taken out is taken for the
    maker."""
    lost_s: float = 1.5
    """Time after which late samples of the known sound count as lost; by judgement."""
    alike: float = 16.0
    """Difference of two looks, in samples, up to which they see the same delay."""
    learnt_db: float = 10.0
    """Gain with which the paths are known at the delay of now; by judgement."""


SECOND_MICROPHONE = CancellerSettings(bends=False, path=PathSettings(keep=0.998, smooth=0.9))
"""For what a second microphone hears: the distortion of the loudspeaker too, by another clock, so
that the path moves. 0.3 m from a telly, at 50 millionths, it is made 23 dB quieter, against 18 with
the usual path; less movement than this made it worse, more no better."""
