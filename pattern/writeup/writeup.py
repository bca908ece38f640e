"""The write-up of a piece: the pattern as it was made, and the rest of it as planned."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import groupby

from pattern.forecast.rest_of_piece import Planned, begun_again, planned
from pattern.gauge.estimate import Estimate
from pattern.plan.piece import Piece, depth_at, girth_of
from pattern.plan.readings import Reading, girth_finished
from pattern.session.commands import Kind
from pattern.session.decide_yarn import use_of
from pattern.session.events import ReadingWanted
from pattern.session.state import State, Taken
from pattern.shape.catalogue import Form, Shape
from pattern.shape.settings import Settings
from pattern.writeup import parts
from pattern.writeup.document import Block, Items, Paragraph, Section, Table, Writeup
from pattern.writeup.finishing import finishing, trims
from pattern.writeup.many_sizes import in_sizes
from pattern.writeup.measure_text import GIVE_OR_TAKE, length, plain_length, spread
from pattern.writeup.misfits import misfitting
from pattern.writeup.written_rounds import Written, short_name, stitches, written_lines

_MEASURED = {
    Kind.ACROSS: "across the crown",
    Kind.CORNERS: "across the corners of the crown, or from a corner to the side across from it",
    Kind.AROUND: "around the edge",
    Kind.DEPTH: "depth from the middle of the crown along the cloth",
    Kind.BRIM: "width of the brim along the cloth",
}


@dataclass(frozen=True, slots=True)
class Measures:
    """What a finished piece measures, in mm."""

    girth: Estimate
    across: Estimate
    """Of the girth as a circle; of a flat piece, twice the way from its middle."""
    depth: Estimate
    brim: Estimate | None


def measures(piece: Piece) -> Measures:
    """The measures of a piece so far; while it has no sides its edge is its girth."""
    fitted = piece.index > 0 or piece.shaping.closed
    girth = girth_finished(piece) if fitted else girth_of(piece, piece.stitches)
    brim = piece.gauge.of((0.0, piece.high(piece.brim_rounds), 0.0))
    depth = depth_at(piece, piece.finished - piece.brim_rounds)
    flat = piece.settings.shape.form is Form.FLAT
    by, of = (math.pi, girth) if not flat else (0.5, depth)
    across = Estimate(of.mean / by, of.sd / by)
    return Measures(girth, across, depth, brim if piece.brim_rounds else None)


def as_made(state: State, name: str) -> Writeup:
    """The pattern as it was made; rounds not made yet are given as they are planned now."""
    plan = planned(state)
    end = plan.end
    written = [Written(made.round, made.counted) for made in end.rounds_made()][::-1]
    done, ahead = written[: state.piece.finished], written[state.piece.finished :]
    need = use_of(state).for_stitches(sum(line.round.after for line in written))
    sections = [
        Section("About this pattern", (Paragraph(_status(state.settings.shape, done, ahead)),)),
        parts.materials(state, need),
        parts.gauge(state),
        _measurements(end, planned=bool(ahead)),
        parts.abbreviations(state.settings, decreasing=any(w.round.decreasing for w in written)),
        *_rounds(state, done, ahead),
        *_readings(state),
        *parts.notes(state),
        *_readings_to_come(plan),
        *in_sizes(state),
        finishing(state.settings),
        *trims(end),
        parts.cautions(_worn_by(state)),
    ]
    how = "as made" if not ahead else "as made so far" if done else "as planned"
    title = "".join(sign if sign.isprintable() else " " for sign in name).strip()
    title = title or _a(state.settings.shape.name)
    return Writeup(f"{title}: pattern {how}", state.settings.terms, tuple(sections))


def _worn_by(state: State) -> Settings:
    """The settings, of unknown age where the pattern is for other heads as well."""
    return replace(state.settings, age_years=None) if state.other_heads_mm else state.settings


def as_planned(state: State, name: str) -> Writeup:
    """The whole pattern from its ring, as it is planned with the gauge that is known now."""
    return as_made(begun_again(state), name)


def _status(shape: Shape, done: list[Written], ahead: list[Written]) -> str:
    total = sum(line.found for line in done)
    planned = sum(line.round.after for line in ahead)
    first = "" if len(shape.parts) == 1 else f" of its {shape.parts[0].called}"
    words = f"{_a(shape.name)} worked in rounds from the middle{first}."
    if done:
        words += f" Made: {len(done)} rounds, {total} stitches."
    if ahead:
        words += f" {'Still to make' if done else 'Planned'}: {len(ahead)} rounds, "
        words += f"{planned} stitches."
    return words


def _measurements(state: State, planned: bool) -> Section:
    piece, wanted = state.piece, state.settings
    settings, found, shape = piece.settings, measures(piece), wanted.shape
    rows = [("Width across", found.across, settings.across, wanted.across)]
    if shape.for_head:
        girth = "Girth of the sides" if piece.side_rounds else "Girth"
        rows = [(girth, found.girth, settings.girth_mm, wanted.girth_mm)]
    if "depth_mm" in shape.asked:
        rows.append(("Depth along the cloth", found.depth, settings.depth, wanted.depth))
    if "height_mm" in shape.asked:
        sides = piece.gauge.of((0.0, float(piece.side_rounds), 0.0))
        rows.append(("Height of the sides", sides, settings.height, wanted.height))
    if found.brim is not None:
        rows.append(("Width of the brim", found.brim, settings.brim, wanted.brim))
    table = Table(
        f"What the finished {shape.noun} measures",
        (
            "Measure",
            "As planned" if planned else "As made",
            "Give or take",
            *(("To work to", "After washing") if state.wanted else ("Wanted",)),
        ),
        tuple(
            (
                what,
                length(value.mean, settings.unit),
                spread(value.sd, settings.unit),
                plain_length(worked, settings.unit),
                *([plain_length(washed, settings.unit)] if state.wanted else []),
            )
            for what, value, worked, washed in rows
        ),
    )
    deep = (
        f"Depth is measured along the cloth from the middle of the {shape.parts[0].called} to "
        "the foot of the sides. "
    ) * ("depth_mm" in shape.asked)
    head = parts.head(wanted) if shape.for_head else ()
    cannot = misfitting(piece)
    return Section("Finished measurements", (*head, table, *cannot, Paragraph(deep + GIVE_OR_TAKE)))


def _rounds(state: State, done: list[Written], ahead: list[Written]) -> Iterator[Section]:
    short = short_name(state.settings.stitch, state.settings.terms)
    how = parts.how_to_work(state.settings)
    if done:
        yield Section("Rounds as made", how, tuple(_staged(state.piece, done, short)))
    if not ahead:
        return
    blocks: tuple[Block, ...] = () if done else how
    if state.sets and state.offered is not None:
        worked = f"Of round {state.offered.number}, {state.sets} of {state.offered.sets} repeats"
        blocks = (*blocks, Paragraph(f"{worked} are worked already."))
    heading = "Rounds still to make, as planned now" if done else "Rounds as planned"
    yield Section(heading, blocks, tuple(_staged(state.piece, ahead, short)))


def _staged(piece: Piece, rounds: Iterable[Written], short: str) -> Iterator[Section]:
    for part, run in groupby(rounds, key=lambda line: line.round.part):
        called = [stretch.called for stretch in piece.stretches]
        title = called[part] if part < len(called) else "brim"  # since given up
        yield Section(title.capitalize(), (Items(written_lines(run, short)),))


def _a(name: str) -> str:
    return f"{'An' if name[0] in 'aeiou' else 'A'} {name}"


def _readings(state: State) -> Iterator[Section]:
    taken = list(state.readings_taken())[::-1]
    if taken:
        rows = tuple(_reading_row(state, one) for one in taken)
        table = Table("Readings of the tape", ("Taken after", "Measured", "Reading"), rows)
        yield Section("Readings taken", (table,))


def _readings_to_come(plan: Planned) -> Iterator[Section]:
    rows = tuple((f"Round {finished}", _wanted(event)) for finished, event in plan.readings)
    if rows:
        table = Table("Readings that will be asked for", ("After", "Measure"), rows)
        note = Paragraph("One that is taken makes some of the later ones needless.")
        yield Section("Readings to come", (table, note))


def _wanted(event: ReadingWanted) -> str:
    if event.kind is Kind.LOOK:
        return "how it lies: flat, rippling or cupping"
    if event.stitches is not None:
        return f"along {stitches(event.stitches)} of the edge"
    return _MEASURED[event.kind]


def _reading_row(state: State, taken: Taken) -> tuple[str, ...]:
    out = ""
    if taken.after_round > state.piece.finished:
        out = ", since taken out" if state.piece.finished else " of an earlier start"
    value = length(taken.reading.value_mm, state.settings.unit)
    return f"Round {taken.after_round}{out}", measured(taken.reading), value


def measured(reading: Reading) -> str:
    """What a reading measured, in words."""
    along = f"along {stitches(reading.stitches)} of the edge"
    return _MEASURED.get(reading.kind, along)
