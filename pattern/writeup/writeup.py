"""The write-up of a piece: the pattern as it was made, and the rest of it as planned."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import groupby

from pattern.forecast.rest_of_piece import begun_again, planned_end
from pattern.plan.piece import Piece
from pattern.session.decide_yarn import use_of
from pattern.session.state import State
from pattern.shape.catalogue import Shape
from pattern.shape.settings import Settings
from pattern.writeup import parts
from pattern.writeup.cautions import cautions
from pattern.writeup.document import Block, Items, Paragraph, Section, Table, Writeup
from pattern.writeup.finishing import finishing, trims
from pattern.writeup.many_sizes import in_sizes
from pattern.writeup.measure_text import GIVE_OR_TAKE, length, plain_length, spread
from pattern.writeup.measures import around_what, measures, wide_top
from pattern.writeup.misfits import misfitting
from pattern.writeup.readings_tables import readings_taken, readings_to_come
from pattern.writeup.written_rounds import Written, short_name, written_lines


def as_made(state: State, name: str) -> Writeup:
    """The pattern as made; rounds not made yet are given as planned now."""
    end = planned_end(state)
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
        *readings_taken(state),
        *parts.notes(state),
        *readings_to_come(state),
        *in_sizes(state),
        finishing(state.settings),
        *trims(end),
        cautions(_worn_by(state)),
    ]
    how = "as made" if not ahead else "as made so far" if done else "as planned"
    title = "".join(sign if sign.isprintable() else " " for sign in name).strip()
    title = title or _a(state.settings.shape.name)
    return Writeup(f"{title}: pattern {how}", state.settings.terms, tuple(sections))


def _worn_by(state: State) -> Settings:
    """The settings, with an unknown age if the pattern is also for other heads."""
    return replace(state.settings, age_years=None) if state.other_heads_mm else state.settings


def as_planned(state: State, name: str) -> Writeup:
    """The whole pattern from its ring, as planned with the current gauge."""
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


def _measurements(state: State, *, planned: bool) -> Section:
    piece, wanted = state.piece, state.settings
    settings, found, shape = piece.settings, measures(piece), wanted.shape
    rows = [("Width across", found.across, settings.across, wanted.across)]
    if shape.for_head:
        rows = wide_top(found, settings, wanted)
        rows.append((around_what(piece), found.girth, settings.girth_mm, wanted.girth_mm))
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
        title = called[part] if part < len(called) else "brim"  # a brim that was given up later
        yield Section(title.capitalize(), (Items(written_lines(run, short)),))


def _a(name: str) -> str:
    return f"{'An' if name[0] in 'aeiou' else 'A'} {name}"
