"""How the voice speaks: which one, how fast, how loud."""

from dataclasses import dataclass

from pattern.errors import RoundsAloudError
from pattern.session.commands.manner import FASTEST_WPM, SLOWEST_WPM


class DeliveryRefusedError(RoundsAloudError):
    """A way of speaking that cannot be had."""

    def __init__(self, field: str, value: object, allowed: str) -> None:
        """Name the field, the value refused and what is allowed."""
        self.field = field
        self.value = value
        self.allowed = allowed
        super().__init__(f"{field} cannot be {value}; choose {allowed}.")


@dataclass(frozen=True, slots=True)
class Delivery:
    """How the voice speaks."""

    rate_wpm: int = 160
    volume: float = 1.0
    """0..1"""
    voice: str | None = None
    """Identifier from `Renderer.voices`; None leaves it to the engine."""

    def __post_init__(self) -> None:
        """Refuse a rate or a volume out of range."""
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
