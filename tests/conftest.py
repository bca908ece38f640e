"""What all tests share: time is measured in benchmarks, so no property has a deadline."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
