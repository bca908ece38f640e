"""`python -m tests.bench NAME ...` runs one benchmark."""

from __future__ import annotations

import importlib
import sys

NAMES = (
    "attack",
    "ends",
    "film",
    "fit",
    "hard",
    "hear",
    "load",
    "pace",
    "page",
    "room",
    "saying",
    "speed",
    "wording",
    "words",
    "writeup",
    "yarn",
)


def main(argv: list[str]) -> int:
    """Run the benchmark that the first word names."""
    if not argv or argv[0] not in NAMES:
        print("usage: python -m tests.bench " + "|".join(NAMES))
        return 2
    return int(importlib.import_module(f"tests.bench.{argv[0]}").run(argv[1:]))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
