"""Settings of the canceller."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class CancellerSettings:
    """Settings for finding the known sound, and for waiting for it."""

    bends: bool = True
    """Whether to learn the distortion of a loudspeaker too, from the cube of the mean channel."""
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
