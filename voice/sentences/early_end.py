"""A part that is to end early: its size now, the one it should have, and the question."""

from __future__ import annotations

import math
from dataclasses import dataclass

from pattern.plan.early_end import end_now
from pattern.plan.next_round import next_part
from pattern.session.commands import Kind
from pattern.session.state import State
from voice.sentences.amounts import about, joined
from voice.sentences.measured_now import measured_now, told

TOLD_MM = 5.0
"""Less is not told: half a centimetre is about what a tape shows. Our choice."""


def asked(state: State) -> str:
    """The size first, then whether the next part begins all the same."""
    parts, here = state.piece.stretches, next_part(state.piece) or 0
    start = f"Start the {parts[here + 1].called} all the same?"
    lacks = size(state)
    return joined(f"{lacks}." if lacks else "", f"{start} Yes or no.")


def size(state: State) -> str:
    """How big the part in work is, and how big it should be; nothing where it lacks nothing."""
    found = of_part(state)
    if found.lacks_mm <= TOLD_MM:
        return ""
    are = "are" if found.called.endswith("s") else "is"
    now = found.now(state)
    return (
        f"the {found.called} {are} {now} {found.way}; "
        f"{about(found.wanted_mm, state.settings)} is wanted"
    )


@dataclass(frozen=True, slots=True)
class Size:
    """The size of a part as it is worked now, and the one it should have."""

    called: str
    kind: Kind
    way: str
    """As it is said after the length."""
    now_mm: float
    wanted_mm: float
    lacks_mm: float

    def now(self, state: State) -> str:
        """The length as it was measured, or roughly as it is believed."""
        return told(measured_now(state).get(self.kind), self.now_mm, state.settings)


def of_part(state: State) -> Size:
    """The size by which the part in work ends."""
    piece = state.piece
    part = next_part(piece) or 0
    stretch, found = piece.stretches[part], end_now(piece, part, piece.stitches + state.sets)
    now_mm, wanted_mm, way = found.now_mm, found.wanted_mm, "around"
    kind = Kind.AROUND
    if not found.around:
        kind, way = Kind.DEPTH, "high" if stretch.end_depth_mm is None else "deep"
    elif stretch.shaping.flat:
        believed_mm = piece.gauge.of((0.0, 2.0 * piece.finished, 2.0)).mean
        across_mm = measured_now(state).get(Kind.ACROSS, believed_mm)
        if wanted_mm / math.pi - across_mm > TOLD_MM:  # else only its stitches are too few
            now_mm, wanted_mm = across_mm, wanted_mm / math.pi
            kind, way = Kind.ACROSS, "across"
    return Size(stretch.called, kind, way, now_mm, wanted_mm, found.lacks_mm)
