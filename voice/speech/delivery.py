"""The delivery of speech: voice, rate and volume."""

from dataclasses import dataclass

from pattern.errors import RoundsAloudError
from pattern.session.commands.manner import FASTEST_WPM, SLOWEST_WPM


class DeliveryRefusedError(RoundsAloudError):
    """A delivery that is not available."""

    def __init__(self, field: str, value: object, allowed: str) -> None:
        """Name the field, the refused value, and the allowed values."""
        self.field = field
        self.value = value
        self.allowed = allowed
        super().__init__(f"{field} cannot be {value}; choose {allowed}.")


@dataclass(frozen=True, slots=True)
class Delivery:
    """Voice, rate and volume of speech."""

    rate_wpm: int = 160
    volume: float = 1.0
    """Volume, 0..1."""
    voice: str | None = None
    """Identifier from `Renderer.voices`; None for the engine's default."""

    def __post_init__(self) -> None:
        """Raises DeliveryRefusedError for a rate or a volume out of range."""
        if not SLOWEST_WPM <= self.rate_wpm <= FASTEST_WPM:
            allowed = f"{SLOWEST_WPM} to {FASTEST_WPM} words a minute"
            raise DeliveryRefusedError("rate_wpm", self.rate_wpm, allowed)
        if not 0.0 <= self.volume <= 1.0:
            raise DeliveryRefusedError("volume", self.volume, "0 to 1")


@dataclass(frozen=True, slots=True)
class Voice:
    """A voice of the engine."""

    id: str
    name: str
    language: str
