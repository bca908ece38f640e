"""Tables of the readings taken and of those to come."""

from __future__ import annotations

from collections.abc import Iterator

from pattern.forecast.readings_ahead import readings_ahead
from pattern.plan.readings import Reading
from pattern.session.commands import Kind
from pattern.session.events import ReadingWanted
from pattern.session.state import State, Taken
from pattern.writeup.document import Paragraph, Section, Table
from pattern.writeup.measure_text import length
from pattern.writeup.written_rounds import stitches

_WORDS = {
    Kind.LOOK: "how it lies: flat, rippling or cupping",
    Kind.ALONG: "along {} of the edge",
    Kind.ACROSS: "across the crown",
    Kind.CORNERS: "across the corners of the crown, or from a corner to the side across from it",
    Kind.AROUND: "around the edge",
    Kind.DEPTH: "depth from the middle of the crown along the cloth",
    Kind.BRIM: "width of the brim along the cloth",
    Kind.FIT: "tried on: how it sits around the head",
    Kind.PINCH: "tried on: how much can be pinched",
    Kind.EDGE: "tried on: where the edge ends",
    Kind.WORN: "tried on: how the brim falls",
}


def readings_taken(state: State) -> Iterator[Section]:
    """The section with the readings taken; none without readings."""
    taken = list(state.readings_taken())[::-1]
    if taken:
        rows = tuple(_reading_row(state, one) for one in taken)
        table = Table(
            "Readings by tape and by trying on", ("Taken after", "Measured", "Reading"), rows
        )
        yield Section("Readings taken", (table,))


def readings_to_come(state: State) -> Iterator[Section]:
    """The section with the readings that will be asked for; none without any."""
    rows = tuple((f"Round {finished}", _wanted(event)) for finished, event in readings_ahead(state))
    if rows:
        table = Table("Readings that will be asked for", ("After", "Measure"), rows)
        note = Paragraph("One that comes out otherwise than expected may call for another.")
        yield Section("Readings to come", (table, note))


def _wanted(event: ReadingWanted) -> str:
    return _WORDS[event.kind].format(stitches(event.stitches or 0))


def _reading_row(state: State, taken: Taken) -> tuple[str, ...]:
    out = ""
    if taken.after_round > state.piece.finished:
        out = ", since taken out" if state.piece.finished else " of an earlier start"
    value = length(taken.reading.value_mm, state.settings.unit)
    if taken.reading.fit is not None:
        value = taken.reading.fit.value
    return f"Round {taken.after_round}{out}", measured(taken.reading), value


def measured(reading: Reading) -> str:
    """Description of the measurement that was taken."""
    return _WORDS[reading.kind].format(stitches(reading.stitches))
