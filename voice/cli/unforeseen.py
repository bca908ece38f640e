"""Keeps the trace of an unforeseen error in a file, and tells of it in one sentence."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

FILE = "unforeseen.txt"
"""File with the trace of the last unforeseen error."""


def folder() -> Path:
    """The program's own folder for such files."""
    from platformdirs import user_state_path

    return user_state_path("rounds-aloud", appauthor=False)


def sentence(trace: str) -> str:
    """Keep the trace in a file that only its user can read, and tell where it is."""
    begun = "Something happened that this program does not know how to meet; all that it answered"
    try:
        kept = _keep(trace)
    except OSError as fault:
        last = trace.strip().splitlines()[-1]
        return (
            f"{begun} is kept. Begin again, and report this: {last} "
            f"(the rest cannot be kept: {fault.strerror})."
        )
    return f"{begun} is kept. Begin again, and report it with the file {kept}."


def _keep(trace: str) -> Path:
    place = folder() / FILE
    place.parent.mkdir(parents=True, exist_ok=True)
    number, new = tempfile.mkstemp(dir=place.parent)  # private to its user from the start
    try:
        with os.fdopen(number, "w", encoding="utf-8", errors="backslashreplace") as file:
            file.write(trace)
        Path(new).replace(place)
    except OSError:
        Path(new).unlink(missing_ok=True)
        raise
    return place
