"""Number of examples that a property is tried with: few, or all where RA_THOROUGH=1 asks for it."""

from __future__ import annotations

import os

THOROUGH = os.environ.get("RA_THOROUGH") == "1"
SHARE = 1.0 if THOROUGH else 0.25
"""Part of the thorough number that is tried."""
FEWEST = 4


def examples(thorough: int = 100) -> int:
    """Number of examples now, of a property that is thoroughly tried with so many."""
    return max(min(thorough, FEWEST), round(thorough * SHARE))
