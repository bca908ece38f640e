"""The clock that dates the turns."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime

Clock = Callable[[], datetime]


def now_utc() -> datetime:
    """The time of the system's clock."""
    return datetime.now(UTC)
