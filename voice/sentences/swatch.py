"""A swatch: read back, and what it means for the hat before and after washing."""

from __future__ import annotations

from pattern.gauge.swatch import washed_ratio
from pattern.plan.crown import by_tape, crown_target
from pattern.session.events import SwatchTaken
from pattern.session.state import State
from voice.sentences.amounts import counted, decimal, joined, length, with_unit
from voice.sentences.places import rounds

STEADY = 0.005
"""A change by less in washing is called none."""


def taken(event: SwatchTaken, before: State, after: State) -> str:
    """The swatch read back, and what follows from it."""
    many = counted(event.count, *(("round",) if event.rounds else ("stitch", "stitches")))
    washed = ", washed" if event.washed else ""
    said = joined(f"{many} in {length(event.length_mm, after.settings)}{washed}.")
    if after.brief:
        return said
    ratio = washed_ratio(event, before.swatches)
    if ratio is not None:
        return joined(said, change(ratio, along_rounds=event.rounds), both(after))
    if event.washed:
        return joined(said, "I do not know its size before washing, so I take this as it is.")
    if event.rounds or by_tape(after.piece):
        return joined(said, rounds(after))
    target = counted(crown_target(after.piece), "stitch", "stitches")
    return joined(said, f"The {after.piece.stretches[0].called} should end at {target}.")


def change(ratio: float, *, along_rounds: bool) -> str:
    """The effect of washing, in percent."""
    way = "in depth" if along_rounds else "around"
    if abs(ratio - 1) < STEADY:
        return f"Washing leaves it as it is {way}."
    verb = "shrinks" if ratio < 1 else "grows"
    return f"It {verb} by {decimal(round(200 * abs(ratio - 1)) / 2)} percent {way} in washing."


def both(state: State) -> str:
    """The girth and the depth as they are worked, and as they are after washing."""
    if state.wanted is None:
        return ""
    worked, wanted = state.piece.settings, state.wanted
    if not wanted.shape.for_head:
        return (
            f"I plan {with_unit(worked.across, worked, 8)} across, so that washed it is "
            f"{length(wanted.across, wanted, 8)}."
        )
    return (
        f"I plan {with_unit(worked.girth_mm, worked, 8)} around and "
        f"{with_unit(worked.depth, worked, 8)} deep, so that washed it is "
        f"{length(wanted.girth_mm, wanted, 8)} around and "
        f"{length(wanted.depth, wanted, 8)} deep."
    )
