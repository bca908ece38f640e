"""Lengths that were measured after the last finished round: what is told of now agrees with them.

An estimate weighs a reading against all that is known, so it may be another length than was said.
"""

from __future__ import annotations

from collections.abc import Mapping

from pattern.session.commands import Kind
from pattern.session.state import State
from pattern.shape.settings import Settings
from voice.sentences.amounts import about_with_unit, with_unit

Measured = Mapping[Kind, float]
"""Lengths in mm, by what they measure."""


def measured_now(state: State) -> Measured:
    """The last length of each kind that was measured since the last finished round."""
    found: dict[Kind, float] = {}
    for taken in state.readings_taken():
        if taken.after_round != state.piece.finished:
            break
        if taken.reading.by_tape:
            found.setdefault(taken.reading.kind, taken.reading.value_mm)
    return found


def told(measured_mm: float | None, believed_mm: float, settings: Settings) -> str:
    """A length as it was measured, or else roughly as it is believed."""
    if measured_mm is None:
        return f"about {about_with_unit(believed_mm, settings)}"
    return with_unit(measured_mm, settings)
