"""The sentences of the steps of each decoration, told so that fingers can follow without eyes.

Common practice of the trade, no source, unless said beside a sentence. A step is one breath.
"""

from __future__ import annotations

from collections.abc import Callable

from pattern.forecast.trims import EDGING_OVERLAP_MM, edging
from pattern.session.state import State
from pattern.shape.catalogue import Form
from pattern.trade.decorations import GATHERED, Decoration
from voice.sentences import trims
from voice.sentences.amounts import joined, with_unit

_QUARTERS = "fold it in half, and once more: the folds are the quarters"


def _ribbon_cut(state: State) -> str:
    return joined(trims.length_of_band(state), "Wash and dry the hat before that.")


def _lace_cut(state: State) -> str:
    gathered_mm = GATHERED * edging(state).mean + EDGING_OVERLAP_MM
    gathered = with_unit(gathered_mm, state.settings, 8)
    return joined(trims.length_of_edging(state), f"Gathered, {gathered}.")


def _place(state: State) -> str:
    worn = state.settings.shape.form is Form.WORN
    where = "put the hat over a bowl, and hold it before one ear, where the sides end"
    return joined(
        f"{where if worn else 'hold it where it is to sit'}. Put a marker into its middle.",
        _small(state),
    )


def _small(state: State) -> str:
    """Source: US 16 CFR 1501, as in `pattern.trade.cautions`: small parts under three years."""
    if not trims.may_be_under(state, trims.SMALL_UNDER_YEARS):
        return ""
    return "For a child under three, only what is crocheted flat: no buttons, beads, pins or glue."


def _soak(state: State) -> str:
    if not state.settings.brim:
        return "Dip it, press the starch through with your fingers, and squeeze. Do not wring it."
    return (
        "Dip the brim alone, press the starch through with your fingers, and squeeze. Do not wring "
        "it. The sides stay soft."
    )


def _shaped(state: State) -> str:
    settings = state.settings
    over = "Lay it over a form of its size"
    if settings.shape.for_head:
        head = with_unit(settings.girth_mm - settings.ease_mm, settings, 8)
        over = f"Lay it over a bowl {head} around"
    if settings.shape.form is Form.FLAT:
        over = "Pin it out flat and round"
    brim = "Smooth the brim with your palms. " if settings.brim else ""
    return f"{over}. {brim}Let it dry for a day, away from heat and from children."


_JOIN = (
    "At the end lay one end over the other, turned under, and sew down its fold. Take the pins out "
    "and count them. Tug all around: nothing may lift."
)
STEPS_TOLD: dict[tuple[Decoration, str], str | Callable[[State], str]] = {
    (Decoration.RIBBON, "cut"): _ribbon_cut,
    (Decoration.RIBBON, "turn"): (
        "Fold one end under by half of the overlap, and crease it, so that it does not fray. "
        "That end comes to lie on top."
    ),
    (Decoration.RIBBON, "pin"): (
        "Lay it over the lower edge of the sides, the ends at the back. Pin it there, then at each "
        f"quarter: {_QUARTERS}. Count the pins."
    ),
    (Decoration.RIBBON, "tack"): (
        "Sew along both its edges, a small stitch at every finger's width, through the ribbon and "
        "under one strand of the hat. Do not draw it tight: the hat must still give."
    ),
    (Decoration.RIBBON, "join"): _JOIN,
    (Decoration.RIBBON, "wear"): (
        "For a wash, snip the stitches and take it off, unless you washed it before and it kept "
        "its colour and length."
    ),
    (Decoration.LACE, "cut"): _lace_cut,
    (Decoration.LACE, "shrink"): (
        "Wash the lace first, in warm water, and let it dry. Cotton lace shrinks, and would draw "
        "the edge together."
    ),
    (Decoration.LACE, "pin"): (
        "Begin at the back, along the last round. Pin it there, then at each quarter: "
        f"{_QUARTERS}. Ease it in between. Stretched lace makes the edge cup. Count the pins."
    ),
    (Decoration.LACE, "tack"): (
        "Sew it by hand, a small stitch at every finger's width, through the lace and both loops "
        "of the last round. At a gather, two."
    ),
    (Decoration.LACE, "join"): _JOIN,
    (Decoration.LACE, "wear"): (
        "Lace that was washed first may stay on in a gentle wash. Dry it flat, and pull it into "
        "shape while it is damp."
    ),
    (Decoration.EDGING, "cut"): trims.length_of_edging,
    (Decoration.EDGING, "pin"): (
        "Begin at the back, along the last round. Pin it there, then at each quarter: "
        f"{_QUARTERS}. Ease it in between. Count the pins."
    ),
    (Decoration.EDGING, "tack"): (
        "Sew it on, a small stitch at every finger's width, through the edging and both loops of "
        "the last round, no tighter than the edge."
    ),
    (Decoration.EDGING, "join"): _JOIN,
    (Decoration.EDGING, "wear"): (
        "An edging of the same yarn is washed with it. Wash any other once before you sew it on."
    ),
    (Decoration.FLOWER, "place"): _place,
    (Decoration.FLOWER, "back"): (
        "If it is heavy, lay a patch of felt inside, as large as a coin, and sew through that as "
        "well, so that the stitches cannot pull a hole."
    ),
    (Decoration.FLOWER, "middle"): (
        "Four stitches in its middle, in a square, with doubled thread. Each goes under a strand "
        "of the cloth, not through its holes alone."
    ),
    (Decoration.FLOWER, "edge"): (
        "Catch each petal from below, one stitch halfway out, so that its edge stays free. A bow "
        "gets two stitches at each loop, and one through the knot."
    ),
    (Decoration.FLOWER, "tug"): (
        "Fasten off inside, with three stitches in one place. Now tug it hard, as a child would: "
        "nothing may move. If it does, sew it once more."
    ),
    (Decoration.FLOWER, "wear"): (
        "A crocheted flower of the same yarn is washed with it. Take off felt, feathers, wire and "
        "pins before every wash."
    ),
    (Decoration.STIFFENING, "choose"): (
        "Two ways. A last round worked firmly, with a hook half a millimetre smaller, or one of "
        "slip stitch: it stays in the wash. Or starch, which washes out; its steps follow."
    ),
    (Decoration.STIFFENING, "mix"): (
        "Stir one spoon of kitchen starch into a cup of cold water, and bring it to the boil, "
        "stirring, until it is clear. It burns like hot jam: let it cool until it is hand warm."
    ),
    (Decoration.STIFFENING, "soak"): _soak,
    (Decoration.STIFFENING, "shape"): _shaped,
    (Decoration.STIFFENING, "wear"): (
        "Starch it again after each wash, and keep it dry: rain softens it. For a small child "
        "nothing but kitchen starch, as hats get chewed."
    ),
}
"""A sentence for each step, or how it follows from the piece."""
CAUTIONED = {
    (Decoration.RIBBON, "turn"),
    (Decoration.LACE, "shrink"),
    (Decoration.EDGING, "tack"),
}
"""Steps that tell a child's caution for loose ends: early ones, which leave breath for it."""
