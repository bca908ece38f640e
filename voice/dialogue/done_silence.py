"""Ends the call of a piece that is done when nobody speaks any more."""

from __future__ import annotations

DONE_SILENCE_S = 120.0
"""Silence after which the call of a piece that is done is over; our choice."""


class DoneSilence:
    """The silence since the piece was done, or since somebody spoke."""

    def __init__(self) -> None:
        """Start at the beginning of the clock."""
        self._from_s = 0.0

    def over(self, now_s: float, *, silent: bool) -> bool:
        """Whether the silence has lasted long enough; it starts again when it is broken."""
        if not silent:
            self._from_s = now_s
        return now_s - self._from_s >= DONE_SILENCE_S
