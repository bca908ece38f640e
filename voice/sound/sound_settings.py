"""Settings of the sound devices."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SoundSettings:
    """The devices, and how they are run."""

    microphone: str | None = None
    """Name, part of a name, or number from 1 on; None for the system's choice."""
    loudspeaker: str | None = None
    device_rate_hz: int | None = None
    """Sampling rate; None for 16 kHz if the devices accept it, else their own."""
    block_s: float = 0.02
    latency_s: float = 0.1
    stall_s: float = 0.6
    """Time without a callback after which a device counts as hung; six times the latency."""
    kept_blocks: int = 500
    """Blocks that can wait, 10 s; further sound is lost, which is reported."""
