"""Sections of a write-up on finishing and trims. Common practice, no source."""

from __future__ import annotations

from pattern.forecast.trims import BAND_OVERLAP_MM, EDGING_OVERLAP_MM, band, edging
from pattern.session.state import State
from pattern.shape.catalogue import Form
from pattern.shape.settings import Settings
from pattern.trade.fibres import CARE, LABEL
from pattern.trade.stitches import lower_than
from pattern.writeup.document import Items, Section
from pattern.writeup.measure_text import both_lengths, plain_length
from pattern.writeup.measures import wide_top_mm
from pattern.writeup.written_rounds import short_name, slip_name


def finishing(settings: Settings) -> Section:
    """The steps after the last round, in the order in which they are called aloud."""
    slip = slip_name(settings.terms)
    lower = [short_name(one, settings.terms) for one in lower_than(settings.stitch)]
    down = "".join(f"{name} in next st, " for name in lower)
    end = f"End the spiral with {down}{slip} in each of the next 2 sts, so that its edge is level."
    if settings.joined:
        end = f"Close the last round with {slip} in its first st."
    tail = both_lengths(150, settings.unit)
    weave = "Weave in the ends along the backs of the stitches."
    if settings.shape.form is Form.CLOSED:
        end = "Fill the ball through its opening, if it is to be filled."
        tail = both_lengths(300, settings.unit)
        weave = (
            "Thread the tail through the front of each st of the last round, pull it closed "
            "and hide the end inside."
        )
    steps = (
        end,
        f"Fasten off, leaving a tail of {tail}.",
        weave,
        *_washed(settings),
        _shaped(settings),
    )
    return Section("Finishing", (Items(steps, ordered=True),))


def trims(state: State) -> tuple[Section, ...]:
    """Lengths of a band and an edging; empty for a closed piece."""
    if state.settings.shape.form is Form.CLOSED:
        return ()
    unit = state.settings.unit
    lines = [("Edging", "around the last round", edging(state), EDGING_OVERLAP_MM)]
    if state.settings.shape.form is Form.WORN:
        lines.insert(
            0, ("Band", "around the lower edge of the sides", band(state), BAND_OVERLAP_MM)
        )
    items = tuple(
        f"{what}, {where}: {both_lengths(around.mean + overlap, unit)}, with "
        f"{plain_length(overlap, unit)} to overlap."
        for what, where, around, overlap in lines
    )
    how = (
        "Measure the washed piece before you cut. Pin at the back and at each quarter; do not draw "
        "it tight."
    )
    return (Section("Trims", (Items((*items, how)),)),)


def _shaped(settings: Settings) -> str:
    if (top_mm := wide_top_mm(settings)) is not None:
        return f"Dry it over a plate as wide as its top, {both_lengths(top_mm, settings.unit)}."
    return _SHAPED[settings.shape.form].format(noun=settings.shape.noun)


def _washed(settings: Settings) -> tuple[str, ...]:
    """Washing instructions for the fibre, if known; none for a closed piece."""
    if settings.shape.form is Form.CLOSED:
        return ()
    if settings.fibre is None:
        return (f"Wash it by the fibre of the yarn. {LABEL}",)
    care = CARE[settings.fibre]
    brim = f" {care.brim}" if settings.brim else ""
    return (f"{care.wash}{brim} {LABEL}",)


_SHAPED = {
    Form.WORN: "Shape the {noun} over a form of the right size and let it dry.",
    Form.FLAT: "Pin the {noun} out flat and round and let it dry.",
    Form.HOLLOW: "Dry the {noun} over a form of its size.",
    Form.CLOSED: "Roll the {noun} between your hands until it is round.",
}
