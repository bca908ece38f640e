"""The appendix on how the gauge was learned: readings, their charts, and how sure it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from pattern.gauge.prior import prior
from pattern.gauge.yarn_use import Need
from pattern.session.decide_yarn import times_learned
from pattern.session.state import State
from pattern.shape.reading_kinds import Kind
from pattern.writeup import measure_text as text
from pattern.writeup.charts import brim_fullness, gauge_over_rounds
from pattern.writeup.document import Figure, Items, Paragraph, Section, Table
from pattern.writeup.drawing import Letters
from pattern.writeup.named_measures import Named
from pattern.writeup.readings_tables import readings_taken, readings_to_come


def appendix(
    state: State, end: State, need: Need, named: Sequence[Named], letters: Letters
) -> Section:
    """How the gauge was learned, in subsections."""
    sections = (
        Section("Gauge", (_gauge(state), Paragraph(_source(state)), *_swatches(state))),
        *readings_taken(state),
        *readings_to_come(state),
        Section("Measures, and how sure they are", (_measures(state, named),)),
        _yarn(state, need),
        *_charts(state, end, letters),
    )
    return Section("How the gauge was learned", (Paragraph(text.GIVE_OR_TAKE),), sections)


def _gauge(state: State) -> Table:
    known, unit = state.piece.gauge, state.settings.unit
    width, height = known.of((1.0, 0.0, 0.0)), known.of((0.0, 1.0, 0.0))
    rows = (
        ("Stitches", text.stitches_in(width.mean, unit), text.fine_length(width, unit)),
        ("Rounds", text.stitches_in(height.mean, unit), text.fine_length(height, unit)),
    )
    return Table("Gauge in rounds", ("What", "How many", "One measures"), rows)


def _measures(state: State, named: Sequence[Named]) -> Table:
    unit = state.settings.unit
    washed = state.wanted is not None
    head = ("Measure", "Found", "Give or take", "To work to", *["After washing"] * washed)
    rows = tuple(
        (
            one.name,
            text.length(one.found.mean, unit),
            text.spread(one.found.sd, unit),
            text.plain_length(one.worked_to_mm, unit),
            *[text.plain_length(one.wanted_mm, unit)] * washed,
        )
        for one in named
    )
    return Table("Measures of the finished piece", head, rows)


def _yarn(state: State, need: Need) -> Section:
    lines = (
        f"Metres: {text.rounded(need.metres)}.",
        f"Grams: {text.rounded(need.grams)}.",
        *([f"Balls: {text.rounded(need.balls, 1)}."] if need.balls else []),
    )
    return Section("Yarn for the whole piece", (Items(lines), Paragraph(_yarn_source(state))))


def _yarn_source(state: State) -> str:
    times = times_learned(state)
    if state.weighed and state.weighed[-1].stitches and not times:
        return "The yarn was weighed once; how much is needed is usual for the gauge."
    if not times:
        return "The yarn needed is what is usual for the gauge; none was weighed along the way."
    return f"The yarn needed was learned by weighing it {times} time{'s' * (times > 1)} on the way."


def _charts(state: State, end: State, letters: Letters) -> Iterator[Section]:
    """The gauge over the rounds, once there are some, and the fullness of a brim."""
    if state.piece.finished:
        for heading, which in (("Stitch width", 0), ("Round height", 1)):
            yield Section(heading, (Figure(gauge_over_rounds(state, which, letters)),))
    if (brim := brim_fullness(end, state.piece.finished, letters)) is not None:
        yield Section("Fullness of the brim", (Figure(brim),))


def _swatches(state: State) -> tuple[Items | Paragraph, ...]:
    """Measurements of the swatches and the effect of washing; empty without either."""
    unit = state.settings.unit
    lines = tuple(
        f"Swatch{', washed' * one.washed}: {one.count} {'rounds' if one.rounds else 'sts'} in "
        f"{text.length(one.length_mm, unit)}."
        for one in state.swatches
    )
    items = (Items(lines),) if lines else ()
    if state.washing is None:
        return items
    around, deep = (f"{100 * ratio:.1f} %" for ratio in (state.washing.width, state.washing.height))
    return (
        *items,
        Paragraph(
            f"After washing it is {around} as wide and {deep} as high as before; "
            "the measures to work to allow for that."
        ),
    )


def _source(state: State) -> str:
    readings = sum(taken.reading.by_tape for taken in state.readings_taken())
    worn = sum(taken.reading.kind is Kind.FIT for taken in state.readings_taken())
    if readings or worn:
        tape = f"{readings} reading{'s' * (readings > 1)} of the tape on the piece itself"
        tried = f"trying it on {worn} time{'s' * (worn > 1)}"
        ways = " and ".join([*[tape] * bool(readings), *[tried] * bool(worn)])
        return f"Learned from {ways}, and from how it lay where that was said."
    if state.swatches:
        return "Learned from a swatch; no tape was laid on this piece yet."
    if state.known is not None:
        return (
            f"Carried over from {state.known.piece}, scaled to this yarn and hook; no tape was "
            "laid on this piece yet."
        )
    if prior(state.settings).mean != state.piece.gauge.mean:
        return "From the published gauge of the yarn and hook, and from how the piece lay."
    return "From the published gauge of the yarn, scaled to the hook; not measured on a piece yet."
