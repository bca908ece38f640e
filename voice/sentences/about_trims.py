"""Answers on glue, the wash, cords and pins. Common practice, no source, unless said."""

from __future__ import annotations

from collections.abc import Callable

from pattern.shape.settings import Settings
from pattern.trade.techniques import Technique
from voice.sentences.trims import CORDS_UNDER_YEARS


def _ties(settings: Settings) -> tuple[str, ...]:
    """Sources: EN 14682 and US 16 CFR 1501, as in `pattern.trade.cautions`."""
    child = (
        "For a child under seven, no cords, ties or elastic at head or neck: they catch and pull "
        "tight. Under three no buttons, beads or pins: they come off. Follow the rules where you "
        "live."
    )
    grown = (
        "For a grown head, sew each tie on inside, over the ear, with doubled thread and a square "
        "of stitches. Close every pin, and take it out before a wash."
    )
    age = settings.age_years
    return (child,) if age is not None and age < CORDS_UNDER_YEARS else (child, grown)


PAGES: dict[Technique, tuple[str, ...] | Callable[[Settings], tuple[str, ...]]] = {
    Technique.GLUE: (
        "Sewing holds better, and comes off for the wash. If you glue: fabric glue that stays "
        "soft, in dots, pressed until dry. Hot glue burns fingers, and lets go in a warm wash. "
        "Glue nothing on for a child under three: it gets pulled off.",
    ),
    Technique.TRIM_WASH: (
        "What is crocheted of the same yarn stays on. Snip off ribbons, feathers, felt, wire and "
        "pins before a wash. Starch washes out: starch again. Glue holds only where its label says "
        "washable.",
        "Not sure whether a ribbon runs? Press it wet on white cloth: if it leaves colour, take it "
        "off before every wash.",
    ),
    Technique.TIES: _ties,
}
"""Pages of each topic, as in `voice.sentences.teaching`."""
