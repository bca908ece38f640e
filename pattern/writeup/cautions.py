"""The section of cautions."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pattern.shape.catalogue import Form
from pattern.shape.settings import Settings
from pattern.trade.cautions import CAUTIONS, Caution, brim_for_shade_mm
from pattern.writeup import measure_text as text
from pattern.writeup.document import Items, Paragraph, Section

CAUTION_TEXTS: Mapping[str, str] = MappingProxyType(
    {
        "cords": "No cords, drawstrings or ties at the head and neck: they can catch. If the hat "
        "must be held, use a fastener that breaks away.",
        "small parts": "No buttons, beads or sewn-on eyes: they can come off and be swallowed.",
        "sleep": "No hat while asleep: it can cover the face, and a baby can overheat.",
        "hands": "Rest your hands: half a minute every ten minutes, and two minutes every half "
        "hour. With pain, numbness or tingling, stop. See a doctor if it doesn't go away.",
    }
)
"""Texts by the keys of `CAUTIONS`, which has the sources; the text on shade depends on the brim."""
_LOCAL = (
    "These are the usual cautions and no legal advice. Rules differ between countries, and between "
    "gifts and goods for sale: where they differ, your local rules decide."
)


def cautions(settings: Settings) -> Section:
    """Cautions that apply to the wearer; if the age is unknown, each says whom it is for."""
    items = [_caution(caution, settings) for caution in CAUTIONS if _applies(caution, settings)]
    return Section("Cautions", (Items(tuple(items)), Paragraph(_LOCAL)))


def _applies(caution: Caution, settings: Settings) -> bool:
    age, under = settings.age_years, caution.under_years
    young = under is None or age is None or age < under
    worn = settings.shape.form is Form.WORN
    return (
        young
        and (settings.brim > 0 or not caution.only_brimmed)
        and (worn or not caution.only_worn)
    )


def _caution(caution: Caution, settings: Settings) -> str:
    words = _shade(settings) if caution.key == "shade" else CAUTION_TEXTS[caution.key]
    if caution.under_years is None or settings.age_years is not None:
        return words
    under = caution.under_years
    limit = f"{under:g} years" if under == int(under) else f"{12 * under:g} months"
    return f"For a child under {limit}: {words[0].lower()}{words[1:]}"


def _shade(settings: Settings) -> str:
    advised = text.both_lengths(brim_for_shade_mm(settings.age_years), settings.unit)
    children = f", {text.both_lengths(brim_for_shade_mm(8), settings.unit)} for a child to 8 years"
    return (
        "A crocheted hat gives shade and no more: light comes through its openings. A brim of "
        f"{advised} is advised for shade{children * (settings.age_years is None)}; this one is "
        f"{text.both_lengths(settings.brim, settings.unit)}."
    )
